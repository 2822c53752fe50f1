package divider

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"math/bits"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Signals is the set of what one point of a control chart signals.
type Signals uint16

// The signals. Each has a word for programs and a sentence for people.
const (
	// BeyondLimit says that the point lies beyond a limit.
	BeyondLimit Signals = 1 << iota
	// SpreadBeyondLimit says that the subgroup's spread lies beyond a limit.
	SpreadBeyondLimit
	// SumAbove says that the cusum above the centre passed the decision interval.
	SumAbove
	// SumBelow says that the cusum below the centre passed the decision interval.
	SumBelow
	// TwoOfThree says that two of three points in a row lie beyond two standard errors on one side.
	TwoOfThree
	// FourOfFive says that four of five points in a row lie beyond one standard error on one side.
	FourOfFive
	// EightOneSide says that eight points in a row lie on one side of the centre.
	EightOneSide
	// NineOneSide says that nine points in a row lie on one side of the centre.
	NineOneSide
	// SixTrending says that six points in a row rise or fall.
	SixTrending
	// FourteenAlternating says that fourteen points in a row go up and down by turns.
	FourteenAlternating
	// FifteenNear says that fifteen points in a row lie within one standard error.
	FifteenNear
	// EightAway says that eight points in a row lie beyond one standard error on either side.
	EightAway
)

var signalTexts = [...][2]string{
	{"beyond-limit", "The point lies beyond the limit."},
	{"spread-beyond-limit", "The pieces of this subgroup scatter more, or less, than the limits allow."},
	{"sum-above", "The weight has stayed above the centre too long."},
	{"sum-below", "The weight has stayed below the centre too long."},
	{"two-of-three", "Two of three points lie beyond two standard errors on one side."},
	{"four-of-five", "Four of five points lie beyond one standard error on one side."},
	{"eight-one-side", "Eight points in a row lie on one side of the centre."},
	{"nine-one-side", "Nine points in a row lie on one side of the centre."},
	{"six-trending", "Six points in a row rise, or fall."},
	{"fourteen-alternating", "Fourteen points in a row go up and down by turns: two streams may be mixed."},
	{"fifteen-near", "Fifteen points in a row lie close to the centre: the limits are too wide, or lanes are mixed in a subgroup."},
	{"eight-away", "Eight points in a row keep away from the centre: two streams may be mixed."},
}

// Has reports whether every signal of want is set.
func (s Signals) Has(want Signals) bool { return s&want == want }

// Words returns the words of the signals that are set, in a fixed order.
func (s Signals) Words() []string { return s.texts(0) }

// Sentences returns what to tell a person, in the order of Words.
func (s Signals) Sentences() []string { return s.texts(1) }

func (s Signals) texts(column int) []string {
	out := make([]string, 0, bits.OnesCount16(uint16(s)))
	for i, t := range signalTexts {
		if s&(1<<i) != 0 {
			out = append(out, t[column])
		}
	}
	return out
}

// String returns the words, separated by commas.
func (s Signals) String() string { return strings.Join(s.Words(), ", ") }

// MarshalText writes the words, separated by commas.
func (s Signals) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (s *Signals) UnmarshalText(text []byte) error {
	var got Signals
next:
	for word := range strings.SplitSeq(string(text), ", ") {
		for i, t := range signalTexts {
			if t[0] == word {
				got |= 1 << i
				continue next
			}
		}
		if word != "" {
			return fmt.Errorf("no signal is called %q", word)
		}
	}
	*s = got
	return nil
}

// A Watch is a control chart that is fed one weighing at a time, of one lane.
// It takes the same memory for a thousand weighings as for one, and can be
// saved as JSON between shifts: restored, it goes on as if nothing had been.
// Its points are those of [ControlChart]. It is not for several goroutines at once.
type Watch struct {
	setup  ChartSetup
	limits spreadLimits // follow from the setup
	state  watchState
}

// watchState is what the past leaves behind.
type watchState struct {
	Points  int       `json:"points"`  // completed so far
	Run     int       `json:"run"`     // of these, since the last restart
	Group   subgroup  `json:"group"`   // the subgroup being filled
	Last    unit.Mass `json:"last"`    // the point before, if any
	Average unit.Mass `json:"average"` // moving average (ewma)
	Above   float64   `json:"above"`   // sums (cusum)
	Below   float64   `json:"below"`
	History history   `json:"history"` // the last points (run rules)
}

// subgroup gathers pieces about the first of them, which keeps the digits.
type subgroup struct {
	Pieces  int       `json:"pieces"`
	Origin  unit.Mass `json:"origin"` // the first piece
	Lowest  unit.Mass `json:"lowest"`
	Highest unit.Mass `json:"highest"`
	Sum     float64   `json:"sum"`     // of x - origin
	Squares float64   `json:"squares"` // of (x - origin)^2
}

// possible reports whether pieces can have such sums, but for rounding.
func (g *subgroup) possible() bool {
	if g.Pieces == 0 {
		return *g == subgroup{}
	}
	n, low, high := float64(g.Pieces), float64(g.Lowest-g.Origin), float64(g.Highest-g.Origin)
	slack := float64(1e-9 * n * max(1, float64(g.Highest)))
	square := float64(slack * slack)
	return low <= 0 && high >= 0 && g.Sum >= float64(n*low)-slack && g.Sum <= float64(n*high)+slack &&
		float64(g.Sum*g.Sum) <= float64(n*g.Squares)+square && g.Squares <= float64(n*max(float64(low*low), float64(high*high)))+square
}

func (g *subgroup) add(m unit.Mass) {
	if g.Pieces == 0 {
		g.Origin, g.Lowest, g.Highest = m, m, m
	}
	g.Pieces++
	g.Lowest, g.Highest = min(g.Lowest, m), max(g.Highest, m)
	d := float64(m) - float64(g.Origin)
	g.Sum += d
	g.Squares += float64(d * d)
}

func (g *subgroup) mean() unit.Mass {
	return g.Origin + unit.Mass(g.Sum/float64(g.Pieces))
}

func (g *subgroup) span() float64 { return float64(g.Highest) - float64(g.Lowest) }

func (g *subgroup) sd() float64 {
	n := float64(g.Pieces)
	return math.Sqrt(max(0, g.Squares-float64(g.Sum*g.Sum)/n) / (n - 1))
}

// history holds one bit for each of the last points, the newest lowest.
type history struct {
	Up      uint16 `json:"up"`       // above the centre
	Down    uint16 `json:"down"`     // below the centre
	UpOne   uint16 `json:"up_one"`   // more than one standard error above
	DownOne uint16 `json:"down_one"` // more than one standard error below
	UpTwo   uint16 `json:"up_two"`   // more than two standard errors above
	DownTwo uint16 `json:"down_two"` // more than two standard errors below
	Rise    uint16 `json:"rise"`     // higher than the point before
	Fall    uint16 `json:"fall"`     // lower than the point before
}

func (h *history) add(z float64, rises, falls bool) {
	push := func(r *uint16, bit bool) {
		*r <<= 1
		if bit {
			*r |= 1
		}
	}
	push(&h.Up, z > 0)
	push(&h.Down, z < 0)
	push(&h.UpOne, z > 1)
	push(&h.DownOne, z < -1)
	push(&h.UpTwo, z > 2)
	push(&h.DownTwo, z < -2)
	push(&h.Rise, rises)
	push(&h.Fall, falls)
}

// all reports whether the last n bits are set.
func all(register uint16, n int) bool { return register&(1<<n-1) == 1<<n-1 }

// of reports whether the newest and at least k of the last n bits are set.
func of(register uint16, k, n int) bool {
	return register&1 == 1 && bits.OnesCount16(register&(1<<n-1)) >= k
}

// signals returns what the tests see at the newest of so many points.
func (h *history) signals(rules RunRules, points int) (s Signals) {
	set := func(signal Signals, found bool) {
		if found {
			s |= signal
		}
	}
	if rules == LimitsOnly {
		return 0
	}
	set(TwoOfThree, of(h.UpTwo, 2, 3) || of(h.DownTwo, 2, 3))
	set(FourOfFive, of(h.UpOne, 4, 5) || of(h.DownOne, 4, 5))
	if rules == ZoneTests {
		set(EightOneSide, all(h.Up, 8) || all(h.Down, 8))
		return s
	}
	away := h.UpOne | h.DownOne
	set(NineOneSide, all(h.Up, 9) || all(h.Down, 9))
	set(SixTrending, all(h.Rise, 5) || all(h.Fall, 5))
	const thirteen, odd, even = 1<<13 - 1, 0x1555, 0x0AAA // 13 steps join 14 points
	rise, fall := h.Rise&thirteen, h.Fall&thirteen
	set(FourteenAlternating, rise == odd && fall == even || rise == even && fall == odd)
	set(FifteenNear, points >= 15 && away&(1<<15-1) == 0)
	set(EightAway, all(away, 8))
	return s
}

// NewWatch returns a watch on a chart that has been set up.
//
// It returns an *[reckon.InputError] for each field of the setup that
// [ControlChart] would refuse.
func NewWatch(setup ChartSetup) (Watch, error) {
	c := reckon.Checks{Func: ControlChart{}.ID()}
	mark := c.Mark()
	setup.Check(&c)
	c.Under(mark, "setup")
	if err := c.Err(); err != nil {
		return Watch{}, err
	}
	return Watch{setup: setup, limits: setup.limits()}, nil
}

// Setup returns the chart that is watched.
func (w *Watch) Setup() ChartSetup { return w.setup }

// Waiting returns how many pieces of the next subgroup have been weighed.
func (w *Watch) Waiting() int { return w.state.Group.Pieces }

// Restart begins afresh after the process was changed on purpose, as by a move
// of the handle: what depends on older points (sums, moving average,
// runs, the moving range) is forgotten and the unfinished subgroup is given up,
// since its pieces would be of two settings. The numbering of points goes on.
// It returns how many pieces were given up.
func (w *Watch) Restart() (dropped int) {
	dropped = w.state.Group.Pieces
	w.state = watchState{Points: w.state.Points}
	return dropped
}

// Add takes the next weighing. It returns the point of the chart, and true, if
// the weighing completes a subgroup. A weighing that is no weight is refused
// with an *[reckon.InputError] and leaves the watch as it was.
func (w *Watch) Add(m unit.Mass) (ChartPoint, bool, error) {
	if w.setup.SubgroupSize == 0 {
		return ChartPoint{}, false, errors.New("divider: a Watch is made by NewWatch")
	}
	if !(m >= lightestPiece && m <= heaviestPiece) {
		return ChartPoint{}, false, &reckon.InputError{Func: ControlChart{}.ID(), Field: "weighing", Value: m.String(), Want: "1 mg to 100 kg"}
	}
	p, complete := w.add(m)
	return p, complete, nil
}

// add takes a weighing that has been checked.
func (w *Watch) add(m unit.Mass) (ChartPoint, bool) {
	s, st := &w.setup, &w.state
	st.Group.add(m)
	if st.Group.Pieces < s.SubgroupSize {
		return ChartPoint{}, false
	}
	group := st.Group
	st.Group = subgroup{}
	st.Points++
	st.Run++
	p := ChartPoint{Point: st.Points, Value: group.mean()}
	switch {
	case s.Kind == ChartIndividuals && st.Run > 1:
		p.Spread = unit.Mass(math.Abs(float64(p.Value) - float64(st.Last)))
	case s.Kind == ChartAveragesDeviations:
		p.Spread = unit.Mass(group.sd())
	case s.SubgroupSize > 1:
		p.Spread = unit.Mass(group.span())
	}
	p.Plotted = p.Value
	z := (float64(p.Value) - float64(s.Centre)) / s.standardError()
	switch s.Kind {
	case ChartCUSUM:
		st.Above, st.Below = max(0, st.Above+z-s.Slack), max(0, st.Below-z-s.Slack)
		p.SumAbove, p.SumBelow = st.Above, st.Below
		if p.SumAbove > s.Decision {
			p.Signals |= SumAbove
		}
		if p.SumBelow > s.Decision {
			p.Signals |= SumBelow
		}
	case ChartEWMA:
		if st.Run == 1 {
			st.Average = s.Centre
		}
		st.Average = unit.Mass(s.EwmaWeight*float64(p.Value)) + unit.Mass((1-s.EwmaWeight)*float64(st.Average))
		p.Plotted = st.Average
		p.hold(float64(s.Centre), ewmaHalf(*s, st.Run))
	default:
		p.hold(float64(s.Centre), s.LimitWidth*s.standardError())
		// The first individual has no moving range.
		if (s.Kind != ChartIndividuals || st.Run > 1) && (p.Spread < w.limits.low || p.Spread > w.limits.high) {
			p.Signals |= SpreadBeyondLimit
		}
		st.History.add(z, st.Run > 1 && p.Value > st.Last, st.Run > 1 && p.Value < st.Last)
		p.Signals |= st.History.signals(s.Rules, st.Run)
	}
	st.Last = p.Value
	return p, true
}

// hold sets the limits and holds what is plotted against them.
func (p *ChartPoint) hold(centre, half float64) {
	p.Low, p.High = unit.Mass(centre-float64(half)), unit.Mass(centre+float64(half))
	if p.Plotted < p.Low || p.Plotted > p.High {
		p.Signals |= BeyondLimit
	}
}

// savedWatch is the form in which a watch is kept.
type savedWatch struct {
	Setup ChartSetup `json:"setup"`
	State watchState `json:"state"`
}

// MarshalJSON saves the watch.
func (w Watch) MarshalJSON() ([]byte, error) { return json.Marshal(savedWatch{w.setup, w.state}) }

// UnmarshalJSON restores a watch that MarshalJSON saved. What cannot be the
// state of a watch is refused and leaves the watch as it was.
func (w *Watch) UnmarshalJSON(data []byte) error {
	var saved savedWatch
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.DisallowUnknownFields()
	if err := decoder.Decode(&saved); err != nil {
		return fmt.Errorf("divider: a saved watch: %w", err)
	}
	fresh, err := NewWatch(saved.Setup)
	if err != nil {
		return err
	}
	c := reckon.Checks{Func: ControlChart{}.ID()}
	st := saved.State
	reckon.CheckCount(&c, "state.points", st.Points, 0, math.MaxInt32)
	reckon.CheckCount(&c, "state.run", st.Run, 0, max(0, st.Points))
	reckon.CheckCount(&c, "state.group.pieces", st.Group.Pieces, 0, saved.Setup.SubgroupSize-1)
	for _, f := range [...]struct {
		name string
		mass unit.Mass
	}{
		{"state.last", st.Last},
		{"state.average", st.Average},
		{"state.group.origin", st.Group.Origin},
		{"state.group.lowest", st.Group.Lowest},
		{"state.group.highest", st.Group.Highest},
	} {
		reckon.CheckRange(&c, f.name, f.mass, 0, heaviestPiece)
	}
	const most = float64(mostInSubgroup * heaviestPiece)
	reckon.CheckRange(&c, "state.group.sum", st.Group.Sum, -most, most)
	reckon.CheckRange(&c, "state.group.squares", st.Group.Squares, 0, most*float64(heaviestPiece))
	if c.OK() && !st.Group.possible() {
		c.Fail("state.group", fmt.Sprintf("%+v", st.Group), "a subgroup as a watch saves it, its lowest piece not above its highest and its sums between them: start a new watch")
	}
	reckon.CheckNotNegative(&c, "state.above", st.Above)
	reckon.CheckNotNegative(&c, "state.below", st.Below)
	if err := c.Err(); err != nil {
		return err
	}
	fresh.state = st
	*w = fresh
	return nil
}
