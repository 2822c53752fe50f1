package proof

import (
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// slot is what is in one pocket.
type slot struct {
	at     float64 // time loaded, s
	x      int     // chain position when loaded
	piece  int     // 0 if the pocket is empty
	extra  int     // pieces that stick to it
	stroke int
	lane   uint8
	pass   uint8
	jam    uint8 // pass at whose end it sticks, 0 for never
	stuck  bool
}

// machine is a divider and a proofer while they run. The chain position x is
// in trays: at x the tray x mod N stands under the chute, the one loaded F
// trays ago at the transfer and the one loaded D trays ago at the discharge.
type machine struct {
	pattern
	in         Run
	first      int    // trays from chute to transfer
	offset     int    // trays from chute to discharge
	slots      []slot // tray by tray
	lifted     []slot // a tray while it is tipped
	loads      []int
	chuteTray  int
	nextX      int     // next chain position to be worked
	stroke     int     // next stroke, from 0
	latched    bool    // it has been made and waits for its tray
	latchedOn  bool    // with scaling on
	strokeTime float64 // when

	// The stretch of steady running that the clock is in.
	t0, x0, trayRate, strokeRate float64
	firstX                       int // first position worked in it
	running, scaling             bool

	fault   int // next fault
	jammed  int // faults that made a piece stick
	inside  int
	dwells  float64
	lastX   int // chain position of the last exit
	yield   func(Event) bool
	stopped bool // the caller takes no more
	out     RunResult
}

// newMachine is a machine at the start of a run that was checked.
func newMachine(q *Run, t pattern) *machine {
	m := &machine{pattern: t, in: *q, first: t.p.first(), offset: t.p.discharge(), loads: t.load, running: true, scaling: true}
	m.slots = make([]slot, t.p.Pockets*t.p.Trays)
	m.lifted = make([]slot, t.p.Pockets)
	m.setSpeed(q.Strokes)
	return m
}

func (m *machine) setSpeed(s unit.StrokeRate) {
	m.strokeRate = float64(s)
	m.trayRate = float64(s) * m.p.TraysPerStroke
}

// time returns when the chain reaches x in the present stretch. In a stretch
// that starts at the first stroke this is x / v * 60, as in the closed forms.
func (m *machine) time(x float64) float64 { return m.t0 + float64((x-m.x0)/m.trayRate*60) }

// dwell returns how long a piece has been inside at position x.
func (m *machine) dwell(s *slot, x int, now float64) unit.Duration {
	if s.x >= m.firstX {
		return unit.Duration(float64(x-s.x) / m.trayRate * 60) // all in one stretch: as exact as the closed form
	}
	return unit.Duration(now - s.at)
}

// play runs the log and then until the end.
func (m *machine) play(yield func(Event) bool) {
	m.yield = yield
	for _, a := range m.in.Acts {
		if m.running {
			reach := m.x0 + float64((float64(a.At)-m.t0)/60*m.trayRate)
			for float64(m.nextX) <= reach && !m.stopped {
				m.step()
			}
			m.latch(reach)
			m.x0 = reach
		}
		m.t0, m.firstX = float64(a.At), m.nextX
		m.do(a)
	}
	for m.running && !m.stopped && (m.scaling || !m.empty()) {
		m.step()
	}
}

// empty reports whether nothing is left that could come out.
func (m *machine) empty() bool {
	return m.inside == m.out.Stuck && (!m.latched || !m.latchedOn)
}

func (m *machine) do(a Act) {
	switch a.Do {
	case ActStop:
		m.running = false
	case ActStart:
		m.running = true
	case ActSpeed:
		m.setSpeed(a.Strokes)
	case ActScalingOff:
		m.scaling = false
	case ActScalingOn:
		m.scaling = true // once all pieces are in, the next stroke drops none and ends it again
	case ActLanes:
		if a.Across != m.shift {
			m.out.Mixed += m.inside
		}
		m.shift = a.Across
		m.loads = firstPockets(a.Across)
	}
}

// latch makes the next stroke if it falls at or before position x. Strokes are
// at least a tray apart, so that one at most waits for its tray.
func (m *machine) latch(x float64) {
	if at := float64(m.stroke) * m.p.TraysPerStroke * binarySlack; !m.latched && at <= x {
		m.latched, m.latchedOn = true, m.scaling
		m.strokeTime = m.t0 + float64((float64(m.stroke)-m.x0/m.p.TraysPerStroke)/m.strokeRate*60)
	}
}

// step works the next chain position: discharge, transfer, then the chute.
func (m *machine) step() {
	x := m.nextX
	m.nextX++
	now := m.time(float64(x))
	if m.inside > 0 {
		m.discharge(x, now)
		if !m.stopped {
			m.transfer(x, now)
		}
	}
	m.latch(float64(x))
	if m.latched && m.p.tray(m.stroke) <= float64(x) {
		if m.latchedOn && !m.stopped {
			m.drop(x, now)
		}
		m.stroke++
		m.latched = false
	}
	if m.chuteTray++; m.chuteTray == m.p.Trays {
		m.chuteTray = 0
	}
}

// tray returns the number of the tray that passed the chute so many trays ago.
func (m *machine) tray(ago int) int {
	tray := m.chuteTray - ago
	if tray < 0 {
		tray += m.p.Trays
	}
	return tray
}

func (m *machine) row(tray int) []slot {
	return m.slots[tray*m.p.Pockets : (tray+1)*m.p.Pockets]
}

func (m *machine) emit(kind EventKind, s *slot, x int, now float64, tray, pocket int) {
	m.out.PocketEvents++
	if m.yield == nil || m.stopped {
		return
	}
	m.stopped = !m.yield(Event{
		At: unit.Duration(now), Dwell: m.dwell(s, x, now), Piece: s.piece, Stroke: s.stroke,
		Lane: int(s.lane), Tray: tray + 1, Pocket: pocket, Pass: int(s.pass), Kind: kind,
	})
}

// sticks reports whether the piece jams at the end of this pass, and marks it.
func (m *machine) sticks(s *slot, x int, now float64, tray, pocket int) bool {
	if s.jam == s.pass {
		s.stuck = true
		m.jammed++
		m.out.Stuck += 1 + s.extra
		m.emit(EventStuck, s, x, now, tray, pocket)
	}
	return s.stuck
}

func (m *machine) discharge(x int, now float64) {
	tray := m.tray(m.offset)
	row := m.row(tray)
	for i := range row {
		s := &row[i]
		if s.piece == 0 || s.stuck || m.to(i+1) != 0 || m.sticks(s, x, now, tray, i+1) {
			continue
		}
		dwell := m.dwell(s, x, now)
		if m.out.PiecesOut == 0 {
			m.out.FirstOut = unit.Duration(now)
			m.out.Shortest = dwell
		}
		m.out.Shortest = min(m.out.Shortest, dwell)
		m.out.Longest = max(m.out.Longest, dwell)
		m.dwells += float64(dwell)
		m.out.LastOut = unit.Duration(now)
		m.lastX = x
		m.out.PiecesOut += 1 + s.extra
		m.inside -= 1 + s.extra
		m.dwells += float64(float64(dwell) * float64(s.extra))
		m.emit(EventOut, s, x, now, tray, i+1)
		*s = slot{}
	}
}

func (m *machine) transfer(x int, now float64) {
	tray := m.tray(m.first)
	row := m.row(tray)
	busy := false
	for i := range row {
		s := &row[i]
		to := m.to(i + 1)
		if s.piece == 0 || s.stuck || to == 0 || m.sticks(s, x, now, tray, i+1) {
			continue
		}
		s.pass++
		busy = true
		if there := &m.lifted[to-1]; there.piece == 0 {
			*there = *s
			m.emit(EventMoved, there, x, now, tray, to)
		} else {
			m.join(there, s, x, now, tray, to)
		}
		*s = slot{}
	}
	if !busy {
		return
	}
	for i := range row {
		s := &m.lifted[i]
		if s.piece == 0 {
			continue
		}
		if row[i].piece == 0 {
			row[i] = *s
		} else {
			m.join(&row[i], s, x, now, tray, i+1)
		}
		*s = slot{}
	}
}

// join lets s stick to what is there.
func (m *machine) join(there, s *slot, x int, now float64, tray, pocket int) {
	there.extra += 1 + s.extra
	m.out.Doubles += 1 + s.extra
	if there.stuck {
		m.out.Stuck += 1 + s.extra
	}
	m.emit(EventDouble, s, x, now, tray, pocket)
}

// drop puts the pieces of a stroke into the tray under the chute.
func (m *machine) drop(x int, now float64) {
	row := m.row(m.chuteTray)
	for i, q := range m.loads {
		if m.in.Pieces != 0 && m.out.PiecesIn == m.in.Pieces {
			break
		}
		s := slot{at: now, x: x, stroke: m.stroke + 1, lane: uint8(i + 1), pass: 1}
		if f := m.faultAt(m.stroke+1, i+1); f != nil {
			if f.Kind == FaultMissing {
				m.out.Missing++
				continue
			}
			s.jam = uint8(f.Pass)
		}
		m.out.PiecesIn++
		m.inside++
		s.piece = m.out.PiecesIn
		m.out.LastIn = unit.Duration(m.strokeTime)
		if there := &row[q-1]; there.piece == 0 {
			*there = s
			m.emit(EventIn, there, x, now, m.chuteTray, q)
		} else {
			m.emit(EventIn, &s, x, now, m.chuteTray, q)
			m.join(there, &s, x, now, m.chuteTray, q)
		}
	}
	m.out.MostInside = max(m.out.MostInside, m.inside)
	if m.in.Pieces != 0 && m.out.PiecesIn == m.in.Pieces {
		m.scaling = false
	}
}

// faultAt returns the fault of a piece, if it has one.
func (m *machine) faultAt(stroke, lane int) *Fault {
	for m.fault < len(m.in.Faults) {
		f := &m.in.Faults[m.fault]
		switch {
		case f.Stroke == stroke && f.Lane == lane:
			m.fault++
			return f
		case f.Stroke >= stroke: // of the same stroke, a lane to come
			return nil
		}
		m.fault++ // its stroke was empty
	}
	return nil
}

// result sums up, and runs a standing proofer empty to see how long that takes.
func (m *machine) result() RunResult {
	m.out.Stranded = m.inside
	m.out.Unmet = len(m.in.Faults) - m.out.Missing - m.jammed
	out := m.out
	if out.PiecesOut > 0 {
		out.MeanDwell = unit.Duration(m.dwells / float64(out.PiecesOut))
	}
	out.ClearOut = max(0, out.LastOut-out.LastIn)
	if !m.running {
		out.ClearOut = 0
		m.scaling, m.yield = false, nil
		for !m.empty() {
			m.step()
		}
		if m.out.PiecesOut > out.PiecesOut {
			out.ClearOut = unit.Duration((float64(m.lastX) - m.x0) / m.trayRate * 60)
		}
	}
	out.Conditions = m.p.conditions()
	out.Cautions = reckon.MovingMachinery | reckon.OilSlip | reckon.LockedOut | reckon.RunningDrive
	if out.Stranded > 0 {
		out.Conditions |= PiecesStranded
	}
	return out
}
