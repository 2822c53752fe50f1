package line_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// What a plan sets is something that the control can stand at, for every control of every order of the demo.
func TestSettingsLieOnTheirScales(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	drawn := 0
	for i := range s.Orders {
		at, err := line.ControlSettings{Line: s.Line, Order: s.Orders[i], Shift: s.Shift}.Solve()
		require.NoError(t, err)
		for k, set := range at.Settings {
			if set.At == "" {
				continue
			}
			can := s.Line.Scale(k)
			if len(can.Positions) > 0 {
				assert.True(t, slices.ContainsFunc(can.Positions, func(p line.Position) bool { return p.Name == set.At }), "%s at %s", set.Control, set.At)
				drawn++
				continue
			}
			if can.Low < can.High {
				assert.GreaterOrEqual(t, set.Number, can.Low, set.Control)
				assert.LessOrEqual(t, set.Number, can.High, set.Control)
				drawn++
			}
		}
	}
	assert.Greater(t, drawn, 60)
}

func TestControlScale(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	l := s.Line
	l.Belts[1].Name = "moulder belt"
	l.Controls = append(slices.Clone(l.Controls),
		line.Control{Name: "stamper wheel", Sets: line.SetsStamps},
		line.Control{Name: "last number", Sets: line.SetsLastNumber},
		line.Control{Name: "first gap", Sets: line.SetsFirstGap, Step: "0.5 mm"},
		line.Control{Name: "belt wheel", Sets: line.SetsBelt, Of: "moulder belt"},
		line.Control{Name: "no such duster", Sets: line.SetsSlide, Of: "nowhere"})
	for _, c := range []struct {
		control         string
		low, high, step float64
		positions       []line.Position
	}{
		{control: "divider handle", low: 0, high: 40, step: 0.5},
		{control: "line speed wheel", low: 12, high: 30, step: 0.5},
		{control: "stamper wheel", low: 10, high: 28},
		{control: "belt duster slide", low: 1, high: 9, step: 0.5},
		{control: "rounder speed", low: 60, high: 200, step: 5},
		{control: "first rollers", low: 1, high: 12, step: 0.1},
		{control: "last number", low: 1, high: 13},
		{control: "last rollers", low: 1, high: 14, step: 0.25},
		{control: "side guides", low: 60, high: 320, step: 1},
		{control: "board, entry", step: 0.5}, // the line does not say how far it goes
		{control: "first gap", step: 0.5},
		{control: "belt wheel"},
		{control: "no such duster"},
		{control: "divider chute", positions: []line.Position{{Name: "wide", Value: "2"}, {Name: "narrow", Value: "1"}}},
		{control: "oil cocks", positions: []line.Position{{Name: "open", Value: "open"}, {Name: "shut", Value: "shut"}}},
		{control: "curling chain", positions: []line.Position{{Name: "low", Value: "low"}, {Name: "middle", Value: "middle"}, {Name: "high", Value: "high"}}},
		{control: "star die", positions: []line.Position{{Name: "in", Value: "in"}, {Name: "out", Value: "out"}}},
	} {
		i := slices.IndexFunc(l.Controls, func(k line.Control) bool { return k.Name == c.control })
		require.GreaterOrEqual(t, i, 0, c.control)
		assert.Equal(t, line.ControlScale{Positions: c.positions, Low: c.low, High: c.high, Step: c.step}, l.Scale(i), c.control)
	}
	assert.Empty(t, l.Scale(-1))
	assert.Empty(t, l.Scale(len(l.Controls)))

	// What is drawn cannot change the line.
	l.Scale(3).Positions[0].Name = "moved"
	assert.Equal(t, "wide", l.Controls[3].Positions[0].Name)
	l.Moulder = line.Moulder{}
	for i := range l.Controls {
		assert.NotPanics(t, func() { l.Scale(i) }, "a line without a moulder")
	}
}

// The cautions of all settings are those of the answer.
func TestHazardsOfSettings(t *testing.T) {
	data, err := testdata.Scenario("demo.json")
	require.NoError(t, err)
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	at, err := line.ControlSettings{Line: s.Line, Order: s.Orders[0], Shift: s.Shift}.Solve()
	require.NoError(t, err)
	var all reckon.Cautions
	for i := range at.Settings {
		if at.Settings[i].At != "" {
			all |= at.Settings[i].Hazards()
		}
	}
	assert.Equal(t, at.Cautions, all)
	handle := line.Setting{Sets: line.SetsLastGap, Change: line.Running, Number: float64(unit.Millimetres(3))}
	assert.Equal(t, reckon.MovingMachinery|reckon.Interlocks|reckon.RunningDrive|reckon.RollerNip, handle.Hazards())
}
