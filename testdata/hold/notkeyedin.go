package hold

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/calc"
)

// notKeyedIn are all numbers of the calculation's answers that no step of the working gives, by
// field, each with the reason. The list is exact: what is not in it has its step, and what is in it has none.
func notKeyedIn(t *testing.T, e calc.Entry) map[string]string {
	list := map[string]string{}
	for reason, fields := range map[string][]string{
		"the place of an item in a list: a name, not an amount": {
			"belt-train tightest", "control-chart first", "control-chart points[].point", "set-up-chart chart.first",
			"set-up-chart chart.points[].point", "curling-chain height", "drum-choice drum", "drum-choice larger.drum",
			"drum-choice smaller.drum", "friction-log farthest", "indicator-fit worst", "lane-offsets worst", "line-plan drum.drum",
			"line-plan drum.larger.drum", "piece-sample farthest", "weighing-verdict piece",
			"proofer-lanes lanes[].pocket", "proofer-lanes lanes[].last_pocket",
			"line-clock batches[].batch", "line-clock loads[].load",
		},
		"counted, pocket by pocket or stroke by stroke": {
			"proofer-lanes lanes[].passes", "proofer-run clear_out", "proofer-run doubles", "proofer-run first_out", "proofer-run last_in",
			"proofer-run last_out", "proofer-run longest", "proofer-run mean_dwell", "proofer-run missing", "proofer-run mixed",
			"proofer-run most_inside", "proofer-run pieces_in", "proofer-run pieces_out", "proofer-run pocket_events",
			"proofer-run shortest", "proofer-run stuck", "proofer-run unmet", "proofer-speed-change outside",
		},
		"counted, control by control or record by record": {
			"line-window ways[].batches", "changeover moved", "control-settings controls", "control-settings found", "control-settings left_alone", "control-settings to_move",
			"fault-causes found", "known-good records",
		},
		"counted along the clock, piece by piece and rack by rack": {
			"line-clock buffers[].most", "line-clock buffers[].most_at", "line-clock buffers[].mean", "line-clock buffers[].mean_stay",
			"line-clock racks.most", "line-clock racks.most_at",
			"day-clock runs[].clock.buffers[].most", "day-clock runs[].clock.buffers[].most_at", "day-clock runs[].clock.buffers[].mean", "day-clock runs[].clock.buffers[].mean_stay",
			"day-clock runs[].clock.racks.most_at", "day-clock racks.most_at", "day-clock stations[].first_piece",
		},
		"who does which job, as the search hands the work out": {
			"critical-path jobs[].who[]",
		},
		"a figure of the law, the maker or the trade, with its source": {
			"dust-limit figures[].value_high", "dust-limit figures[].value_low", "ingredient-water water_content", "lot-check allowed",
			"lot-check mean_sample", "lot-operating-curve accept", "lot-operating-curve first_sample", "lot-operating-curve second_sample",
			"part-care warmest", "target-temperature high", "target-temperature low", "tolerable-deficiency deficiency",
		},
		"read off a table of a distribution that no pocket calculator has": {
			"chart-constants mean_range", "chart-constants mean_sd", "chart-constants sd_range", "mark-fit calibration.student_t",
			"mark-fit critical_chi", "mark-fit critical_f", "pieces-to-detect detection_chance", "tolerance-factor two_sided",
		},
		"the smallest number that will do, found by trying one after another": {
			"piece-sample needed", "pieces-to-detect pieces", "pieces-to-weigh groups", "pieces-to-weigh pieces",
		},
		"the solution of an integral equation, or of a sum of many chances": {
			"fraction-for-acceptance fraction", "run-length false_alarm", "run-length run_length",
		},
		"proven by a search through the orders: none has less": {
			"day-plan least.changing", "run-order least.changing", "run-order least.finish", "run-order least.late", "run-order least.worst",
		},
		"planned again with one input changed": {
			"line-window conflict[].piece_rate", "line-window conflict[].strokes",
			"line-window limits[].gaps", "line-window limits[].piece_rate", "line-window limits[].speeds",
		},
		"the best of all settings that work, found by comparing them": {
			"line-plan aim.costs[].best.batches", "line-plan aim.costs[].best.strokes", "line-window best[].batches", "line-window best[].strokes",
		},
		"0: what it costs in a year is asked of target-weight alone": {
			"line-plan label.better_target", "line-plan label.cost_day", "line-plan label.cost_year", "line-plan label.giveaway_day",
			"line-plan label.giveaway_year", "line-plan label.gram_year", "line-plan label.saving_year",
		},
		"a bar of a chart, drawn from moments and times that have their steps": {"day-plan chart[].end", "day-plan chart[].start"},
	} {
		for _, field := range fields {
			id, path, _ := strings.Cut(field, " ")
			if _, known := calc.Lookup(id); !known {
				require.Fail(t, "no calculation is called "+id)
			}
			if id == e.ID {
				list[path] = reason
			}
		}
	}
	return list
}
