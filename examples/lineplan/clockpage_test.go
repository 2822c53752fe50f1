package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// pagesOf is what the pages with such a head say, without what only lays them out.
func pagesOf(out, head string) string {
	var list []string
	for page := range strings.SplitSeq(out, "\f") {
		if strings.HasPrefix(page, head) {
			list = append(list, page)
		}
	}
	return strings.Join(strings.Fields(strings.Join(list, " ")), " ")
}

// The day by the clock has every batch of day-clock, what is started ahead, and what waits with what would mend it.
func TestByTheClock(t *testing.T) {
	for demo, file := range demos {
		data, err := testdata.Scenario(file)
		require.NoError(t, err)
		s, err := line.ReadScenario(data)
		require.NoError(t, err)
		out, err := line.DayClock{Day: s.DayPlan(nil)}.Solve()
		require.NoError(t, err)
		code, text, complaints := call("", "-demo", demo)
		require.Equal(t, exitOK, code, complaints)
		assertPages(t, text)
		page := pagesOf(text, "BY THE CLOCK")
		in := newInstruments(&s, unit.Metric)
		in.from = out.Earliest
		require.NotEmpty(t, out.Findings)
		for _, f := range out.Findings {
			assert.Contains(t, page, f.Order+", "+f.At+": "+f.Says)
			assert.Contains(t, page, "TO MEND IT: "+f.Mend)
		}
		ahead := 0
		for _, r := range out.Runs {
			for _, b := range r.Clock.Batches {
				assert.Contains(t, page, fmt.Sprint(b.Batch, " ", in.at(b.Mix), " ", in.at(b.Tip), " ", in.at(b.FirstCut), " ", in.at(b.LastCut), " ", in.at(b.FirstOven), " ", in.at(b.LastOven)))
				for _, p := range b.Preferments {
					ahead++
					assert.Contains(t, page, fmt.Sprint(in.at(p.Start), " ", p.Name, " ", r.Name, ", batch ", b.Batch))
				}
			}
			for _, l := range r.Clock.Lots {
				ahead++
				assert.Contains(t, page, fmt.Sprintf("%s %s %s, batches %d to %d", in.at(l.Start), l.Name, r.Name, l.FirstBatch, l.LastBatch))
			}
		}
		assert.Positive(t, ahead)
		assert.Equal(t, ahead, strings.Count(page, "[ ]"), "a box for each")
		assert.Contains(t, page, "in the final proof at most, first at "+in.at(out.Racks.MostAt))
		assert.Contains(t, pagesOf(text, "THE DAY"), fmt.Sprintf("WAITS %d things do not go as they should: see BY THE CLOCK", len(out.Findings)))
		assert.Contains(t, page, "spoilage, hot oven (last pages)")
		assert.Contains(t, pagesOf(text, "TAKE CARE"), "An oven, its trays")
	}
}

// A soaker that keeps is weighed in lots, each for all the batches that it serves, and they come to what the batches take.
func TestLots(t *testing.T) {
	data, err := testdata.Scenario("alder.json")
	require.NoError(t, err)
	require.Contains(t, string(data), `"keeps": "4 h"`)
	data = bytes.Replace(data, []byte(`"keeps": "4 h"`), []byte(`"keeps": "35 min"`), 1)
	file := filepath.Join(t.TempDir(), "day.json")
	require.NoError(t, os.WriteFile(file, data, 0o600))
	code, text, complaints := call("", "-scenario", file)
	require.Equal(t, exitOK, code, complaints)
	assertPages(t, text)
	room := pagesOf(text, "MIXING ROOM  Sandwich loaf")
	s, err := line.ReadScenario(data)
	require.NoError(t, err)
	plans, err := s.PlanAll()
	require.NoError(t, err)
	_, clock, err := s.ClockDay(plans)
	require.NoError(t, err)
	loaf := slices.IndexFunc(clock.Runs, func(r line.RunClock) bool { return r.Name == "Sandwich loaf 24 oz" })
	lots := clock.Runs[loaf].Clock.Lots
	require.Len(t, lots, 2, "ten minutes from batch to batch: four are mixed while a lot keeps")
	in := newInstruments(&s, unit.Metric)
	in.scales(&s.Shift, &s.Orders[2])
	in.from = clock.Earliest
	for _, l := range lots {
		all, parts := plans[2].Plan.MixFor("soaker", l.LastBatch-l.FirstBatch+1)
		require.Len(t, parts, 2)
		_, here, ok := strings.Cut(room, fmt.Sprintf("WEIGH soaker, started %s, for batches %d to %d", in.at(l.Start), l.FirstBatch, l.LastBatch))
		require.True(t, ok, room)
		here, _, _ = strings.Cut(here, "WEIGH")
		assert.Contains(t, here, "whole wheat flour "+in.reads(parts[0].Mass, parts[0].Division))
		assert.Contains(t, here, "all of it "+in.weight(all))
		var sum unit.Mass
		for _, part := range parts {
			sum += part.Mass
		}
		assert.InDelta(t, float64(sum), float64(all), 1e-6)
	}
	_, one := plans[2].Plan.MixFor("soaker", 1)
	_, eight := plans[2].Plan.MixFor("soaker", 8)
	assert.InDelta(t, 8*float64(one[0].Mass), float64(eight[0].Mass), 1e-6)
	assert.NotContains(t, room, "SOAKER", "no batch has its own")
	assert.Contains(t, room, "soaker is made in lots: one is started 8 h 10 min before")
}
