package line

import (
	"slices"

	"example.com/dough/molder"
)

// contradictions finds what cannot stand so together, whatever is made. at is where control i stands, "" if
// that is not known.
func (l *Line) contradictions(found []Contradiction, at func(i int) string) []Contradiction {
	for i := range l.Controls {
		k := &l.Controls[i]
		here := at(i)
		if here == "" {
			continue
		}
		add := func(other, otherAt, why string) {
			found = append(found, Contradiction{k.Name, here, other, otherAt, why})
		}
		for _, n := range k.NotWith {
			if j := l.control(n.Control); here == n.At && at(j) == n.ControlAt {
				add(n.Control, n.ControlAt, n.Why)
			}
		}
		switch value := k.value(here); k.Sets {
		case SetsAcross:
			if j := l.before(i, at); j >= 0 && l.Controls[j].value(at(j)) != value {
				add(l.Controls[j].Name, at(j), "the lanes differ: pieces would fall beside their pockets, or two into one")
			}
		case SetsSpin:
			switch die := l.Stamper.Die; {
			case die == molder.StillDie && value == on:
				add("die", string(die), "a still die that spins tears the piece")
			case die == molder.TurningDie && value == off:
				add("die", string(die), "a turning die that does not spin makes no twisted cut")
			}
		case SetsRoute:
			l.routeTo(Route(value), at, add)
		case SetsFitting:
			if value == inPut {
				l.beside(k, at, add)
			}
		}
	}
	return found
}

// before returns the nearest control before i that sets the number across too and is known to stand somewhere, or -1.
func (l *Line) before(i int, at func(i int) string) int {
	for j := i - 1; j >= 0; j-- {
		if l.Controls[j].Sets == SetsAcross && at(j) != "" {
			return j
		}
	}
	return -1
}

// routeTo finds a machine that is off though pieces go there.
func (l *Line) routeTo(route Route, at func(i int) string, add func(other, otherAt, why string)) {
	for j := range l.Controls {
		o := &l.Controls[j]
		stops := route == ToMoulder && o.Sets == SetsMoulder || route == ToStamper && o.Sets == SetsStampMode
		if stops && at(j) != "" && o.value(at(j)) == off {
			add(o.Name, at(j), "pieces go to a machine that is off: they jam in front of it or leave unfinished")
		}
	}
}

// beside finds a drum that a fitting does not go with.
func (l *Line) beside(k *Control, at func(i int) string, add func(other, otherAt, why string)) {
	for j := range l.Controls {
		o := &l.Controls[j]
		if o.Sets != SetsDrum || at(j) == "" {
			continue
		}
		d := slices.IndexFunc(l.Drums, func(d molder.Drum) bool { return d.Name == o.value(at(j)) })
		if d >= 0 && slices.Contains(l.Drums[d].TakesOut, k.Name) || len(k.Drums) > 0 && !slices.Contains(k.Drums, o.value(at(j))) {
			add(o.Name, at(j), "the fitting does not go in beside this drum: parts would strike or pieces jam")
		}
	}
}
