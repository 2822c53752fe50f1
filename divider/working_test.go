package divider_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/divider"
	"example.com/dough/doughmath"
	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/testdata"
)

// holdsWhenWorkedByHand evaluates each step of the working from those before it.
func holdsWhenWorkedByHand[R any](t *testing.T, q reckon.Calculation[R]) {
	t.Helper()
	_, w, err := reckon.Explain(q)
	require.NoError(t, err)
	assert.NoError(t, testdata.Retrace(w, 1e-9), q.ID())
}

// The workings go a way of their own for each kind of chart and of rule set:
// the branches that no published case takes.
func TestWorkingsHoldOnEveryBranch(t *testing.T) {
	x := wandering(60)
	for _, setup := range setups() {
		holdsWhenWorkedByHand(t, divider.ControlChart{Setup: setup, Weighings: x})
		holdsWhenWorkedByHand(t, divider.SetUpChart{
			Kind: setup.Kind, SubgroupSize: setup.SubgroupSize, Weighings: x, Rules: setup.Rules,
			LimitWidth: setup.LimitWidth, EwmaWeight: setup.EwmaWeight, Slack: setup.Slack, Decision: setup.Decision,
		})
	}
	for _, kind := range []divider.SetUpChart{
		{Kind: divider.ChartCUSUM, Decision: 4},
		{Kind: divider.ChartEWMA, LimitWidth: 3, EwmaWeight: 0.3},
	} {
		kind.SubgroupSize, kind.Weighings, kind.Rules = 1, x, divider.LimitsOnly
		holdsWhenWorkedByHand(t, kind)
	}
	for _, sides := range []divider.SampleSides{divider.OneSided, divider.TwoSided} {
		holdsWhenWorkedByHand(t, divider.RunLength{Kind: divider.ChartIndividuals, ShiftInSD: 1, Sides: sides, LimitWidth: 3})
		holdsWhenWorkedByHand(t, divider.PiecesToDetect{SD: 1, Shift: 0.5, Confidence: 95, DetectionChance: 90, Sides: sides})
	}
	holdsWhenWorkedByHand(t, divider.StrokesForRate{PieceRate: 1, Across: 2, StrokesHigh: 0.01}) // a machine that hardly runs
	holdsWhenWorkedByHand(t, divider.StrokesForRate{PieceRate: 0.01, Across: 2, StrokesLow: 0.01})
	holdsWhenWorkedByHand(t, divider.OperatingCurve{SubgroupSize: 9, LimitWidth: 6, Shifts: []float64{0, -1, 10}})
	holdsWhenWorkedByHand(t, sample(84, 86))
	holdsWhenWorkedByHand(t, divider.GroupSample{Groups: grams(500, 501, 503), Pieces: 6, Confidence: 95})
	holdsWhenWorkedByHand(t, divider.Capability{Mean: 85, SDWithin: 0.7, Pieces: 100, Low: 82, High: 88, Confidence: 95, Required: 1.33})

	for _, q := range []divider.LotCheck{
		{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 500, Sample: drawn(30, 380, 380), SecondWeights: drawn(30, 380)},
		{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 500, Sample: drawn(30, 380, 380), SecondWeights: drawn(30, 388)}, // at the very limit it is not light
		{Rules: divider.RulesUK, Sampling: divider.SampleSingle, Lot: 200, Sample: drawn(50, 388, 387)},
		{Rules: divider.RulesUK, Sampling: divider.SampleSingle, Lot: 200, Sample: drawn(50)}, // 30 in the test of the mean
		{Rules: divider.RulesUK, Sampling: divider.SampleAll, Lot: 1, Sample: drawn(1)},
		{Rules: divider.RulesUK, Sampling: divider.SampleAll, Lot: 45, Sample: drawn(45)},
		{Rules: divider.RulesUSCategoryA, Sampling: divider.SampleSingle, Lot: 5, Sample: drawn(5)},
	} {
		q.Nominal = 400
		holdsWhenWorkedByHand(t, q)
	}
	for _, sampling := range []divider.Sampling{divider.SampleSingle, divider.SampleDouble} {
		holdsWhenWorkedByHand(t, divider.LotOperatingCurve{Rules: divider.RulesUK, Sampling: sampling, Lot: 900, Fractions: []unit.Percent{0, 3, 100}})
		holdsWhenWorkedByHand(t, divider.FractionForAcceptance{Rules: divider.RulesUK, Sampling: sampling, Lot: 900, Accepted: 0.9})
	}

	loaves := []struct {
		rules         divider.RuleSetName
		nominal       unit.Mass
		first, second unit.Percent
	}{
		{divider.RulesEU, 400, 2, 0.01},
		{divider.RulesUK, 400, 0, 0.01},
		{divider.RulesAustralia, 1250, 2, 0.01},
		{divider.RulesNewZealand, 125, 2, 0.01},
		{divider.RulesUSCategoryA, 400, 2, 0},
		{divider.LoafTexas, unit.Pounds(1), 2, 0},
		{divider.LoafSriLanka, 450, 2, 0},
	}
	for _, l := range loaves {
		target := divider.TargetWeight{
			Rules: l.rules, Nominal: l.nominal, SD: l.nominal / 50, FirstShare: l.first, SecondShare: l.second,
			Bake: doughmath.Loss{Percent: 10, Basis: doughmath.LossOnDough}, Combine: doughmath.LossesCompounded,
		}
		holdsWhenWorkedByHand(t, target)
		target.Drift, target.BetterSD, target.PiecesPerDay = 1, l.nominal/100, 1000
		holdsWhenWorkedByHand(t, target)
		target.DaysPerYear, target.CostPerKg = 300, 0.9
		holdsWhenWorkedByHand(t, target)
		holdsWhenWorkedByHand(t, divider.SDForTarget{Rules: l.rules, Nominal: l.nominal, Target: l.nominal + 2, FirstShare: l.first, SecondShare: l.second, Drift: 1})
		holdsWhenWorkedByHand(t, divider.FractionBelow{Rules: l.rules, Nominal: l.nominal, Mean: l.nominal + 1, SD: l.nominal / 50})
	}
}

// A working of a list that was appended to the caller's own tells of the new
// rows alone.
func TestWorkingShowsOnlyItsOwnRows(t *testing.T) {
	chart := divider.ControlChart{Setup: onChart(divider.ZoneTests), Weighings: grams(85, 86, 84, 85)}
	run := divider.SetUpChart{Kind: divider.ChartIndividuals, SubgroupSize: 1, Weighings: grams(85, 86, 84, 85), LimitWidth: 3, Rules: divider.ZoneTests}
	curve := divider.OperatingCurve{SubgroupSize: 5, LimitWidth: 3, Shifts: []float64{0.5, 1}}
	lots := divider.LotOperatingCurve{Rules: divider.RulesEU, Sampling: divider.SampleDouble, Lot: 300, Fractions: []unit.Percent{1, 5}}
	var appended, solved reckon.Working

	points := []divider.ChartPoint{{Point: 99, Value: 1}}
	out, err := chart.Append(points)
	require.NoError(t, err)
	chart.Show(&appended, out)
	out, err = chart.Solve()
	require.NoError(t, err)
	chart.Show(&solved, out)

	setUp, err := run.Append(points)
	require.NoError(t, err)
	run.Show(&appended, setUp)
	setUp, err = run.Solve()
	require.NoError(t, err)
	run.Show(&solved, setUp)

	moves, err := curve.Append([]divider.ShiftPoint{{ShiftInSD: 99}})
	require.NoError(t, err)
	curve.Show(&appended, moves)
	moves, err = curve.Solve()
	require.NoError(t, err)
	curve.Show(&solved, moves)

	shares, err := lots.Append([]divider.OperatingPoint{{Fraction: 99}})
	require.NoError(t, err)
	lots.Show(&appended, shares)
	shares, err = lots.Solve()
	require.NoError(t, err)
	lots.Show(&solved, shares)

	assert.Equal(t, solved.Steps, appended.Steps)
}

// Each way that a working can go has a step for every symbol of its relation that it comes by, and none for what was
// not asked: the relations are in the comments of the calculations. Headings stand in brackets.
func TestWorkingsHaveTheirSteps(t *testing.T) {
	entries := map[string]calc.Entry{}
	for _, e := range calc.Entries() {
		entries[e.ID] = e
	}
	for _, tt := range []struct{ id, patch, symbols string }{
		{"capability", `{"sd_overall":null,"target":null}`, "X_low X_high z Cp Cp_low Cp_high Cpl Cpu Cpk U Cpk_low Cpk_high q z_L z_H b_L b_H"},
		{"capability", `{"sd_overall":"1 g","target":"85 g"}`, "X_low X_high z Cp Cp_low Cp_high Cpl Cpu Cpk U Cpk_low Cpk_high q z_L z_H b_L b_H x Cpm v X_v_low X_v_high Cpm_low Cpm_high Pp Pp_low Pp_high Ppk U_p Ppk_low Ppk_high"},
		{"control-chart", `{"setup":{"kind":"individuals","subgroup_size":1},"weighings":["85 g","86 g"]}`, "x_1 x_2 R_2 d2 d3 e R_m R_low R_high low high W_1 W_2 c f"},
		{"control-chart", `{"weighings":["85 g","86 g","85 g","84 g"]}`, "x_1 R_1 d2 d3 e R_m R_low R_high low high W_1 c f"},
		{"control-chart", `{"setup":{"kind":"averages-deviations","subgroup_size":2},"weighings":["85 g","86 g"]}`, "x_1 R_1 c4 e R_m R_low R_high low high W_1 c f"},
		{"control-chart", `{"setup":{"kind":"cusum","subgroup_size":1,"limit_width":null,"slack":0.005,"decision":4,"rules":"limits-only"},"weighings":["85 g","86 g"]}`, "x_1 x_2 e z_1 P_1 N_1 z_2 P_2 N_2 W_1 W_2 c f"},
		{"control-chart", `{"setup":{"kind":"cusum","subgroup_size":2,"limit_width":null,"decision":4,"rules":"limits-only"},"weighings":["85 g","86 g"]}`, "x_1 R_1 e z_1 P_1 N_1 W_1 c f"},
		{"control-chart", `{"setup":{"kind":"ewma","subgroup_size":1,"ewma_weight":0.2,"rules":"limits-only"},"weighings":["85 g","86 g"]}`, "x_1 x_2 e W_1 U_1 low_1 high_1 W_2 U_2 low_2 high_2 low high c f"},
		{"control-chart", `{"setup":{"kind":"cusum","subgroup_size":1,"limit_width":null,"slack":0.5,"decision":4,"rules":"limits-only"},"weighings":["85 g","86 g"]}`, "x_1 x_2 e z_1 P_1 N_1 z_2 P_2 N_2 W_1 W_2 c f"},
		{"dust-limit", `{"authority":"uk-eh40"}`, "a_1 a_2"},
		{"dust-limit", `{"authority":"uk-nabim-2004"}`, "a_1 b_1 a_2 b_2 a_3 b_3"},
		{"flour-use", `{}`, "A g H G"},
		{"fraction-below", `{}`, "p T T_1 T_2 k_1 F_1 k_2 F_2 G k P F_n E"},
		{"fraction-below", `{"rules":"us-tx-434-007","nominal":"1 lb","mean":"456 g","sd":"8 g"}`, "v T_1 U k_1 F_1 k_u F_u G k P F_n E"},
		{"fraction-below", `{"rules":"lk-caa-2024","nominal":"450 g","mean":"456 g","sd":"8 g"}`, "v T_1 k_1 F_1 G k P F_n E"},
		{"fraction-for-acceptance", `{"sampling":"double","rules":"eu-76-211","lot":3000}`, "n_1 c_1 r_1 n_2 c_2 f"},
		{"fraction-for-acceptance", `{"sampling":"destructive","rules":"eu-76-211","lot":3000}`, "n_1 c_1 f"},
		{"group-sample", `{}`, "n m_g s_g t z m U m_low m_high r h s"},
		{"handle-band", `{}`, "e z m H h T_a c a_low a_high o O p z_9 d_up d_down"},
		{"hopper-growth", `{}`, "k_1 y_1 k_2 y_2 k_3 y_3 k_4 y_4 T N W t_m y_m S_tt S_ty B A m_0 g v p q r g_l g_h"},
		{"lane-offsets", `{}`, "L m u shift t_L H o_1 l_1 h_1 o_2 l_2 h_2 o"},
		{"loaf-limits", `{}`, "v U L"},
		{"loaf-limits", `{"rules":"lk-caa-2024","nominal":"450 g"}`, "v L"},
		{"lot-check", `{}`, "p T T_1 T_2 d c i n m s k m_min"},
		{"lot-check", `{"rules":"us-hb133-a"}`, "T T_1 d c n m s k m_min"},
		{"lot-check", `{"rules":"uk-2006-659","sampling":"all","lot":5}`, "p T T_1 T_2 d h c i n m s k m_min"},
		{"lot-check", `{"rules":"uk-2006-659","sampling":"all","lot":1,"sample":["400 g"]}`, "p T T_1 T_2 d h c i n m s k m_min"},
		{"lot-operating-curve", `{"fractions":["1 %"]}`, "n_1 c_1 r_1 n_2 c_2 A_1 B_1 P_1"},
		{"lot-operating-curve", `{"sampling":"destructive","fractions":["1 %"]}`, "n_1 c_1 A_1 B_1 P_1"},
		{"mark-fit", `{"weighting":"equal"}`, "N x_low x_high w_1 w_2 w_3 w_4 w_5 w_6 W x_m y_m S_xx S_xy b r_1 r_2 r_3 r_4 r_5 r_6 f S_r s s_p t M_1 M_2 M_3 S_e f_e F F_c a b_0 s_ab s_a s_b i z"},
		{"mark-fit", `{"shape":"quadratic"}`, "N x_low x_high w_1 w_2 w_3 w_4 w_5 w_6 W x_m y_m S_xx S_xy b k q_1 q_2 q_3 q_4 q_5 q_6 S_qq S_qy d q_0 r_1 r_2 r_3 r_4 r_5 r_6 f S_r s s_p t M_1 M_2 M_3 S_e f_e a b_0 s_ab s_d s_a s_b i z"},
		{"mark-fit", `{"trials":[{"mark":2,"weight":"60 g","pieces":1},{"mark":4,"weight":"78 g","pieces":1},{"mark":6,"weight":"95 g","pieces":1}]}`, "N x_low x_high w_1 w_2 w_3 W x_m y_m S_xx S_xy b r_1 r_2 r_3 f S_r s s_p t a b_0 s_ab s_a s_b i z"},
		{"mark-fit", `{"trials":[{"mark":2,"weight":"60 g","pieces":1},{"mark":4,"weight":"78 g","pieces":1},{"mark":6,"weight":"96 g","pieces":1}]}`, "N x_low x_high w_1 w_2 w_3 W x_m y_m S_xx S_xy b r_1 r_2 r_3 f S_r s s_p t a b_0 s_ab s_a s_b"},
		{"mark-for-weight", `{}`, "u x b_x g v A R x_l x_h x_set u_set y_set"},
		{"mark-for-weight", `{"interval":"delta","mark_step":0.1}`, "u x b_x g v h x_l x_h x_set u_set y_set"},
		{"next-mark", `{"weight":"60 g","mark_high":7}`, "off noise u shift E_s b_u H h T_a c c_low c_high N M v x_t b_t h_x x_l x_h x_set m u_set y_set"},
		{"next-mark", `{}`, "off noise u shift E_s b_u H h T_a c c_low c_high N M v x_t b_t h_x x_l x_h x_set m u_set y_set"},
		{"next-mark", `{"move_limit":null,"mark_step":null,"label":"80 g","sd":"1 g","needless":"4 %"}`, "off z noise u shift E_s b_u H h T_a c c_low c_high N M v x_t b_t h_x x_l x_h x_set m u_set y_set"},
		{"oil-use", `{"pieces_per_run":1}`, "q L V L_d V_d l v"},
		{"oil-use", `{"pieces_per_run":null}`, "q L V L_d V_d l"},
		{"operating-curve", `{"shifts":[1]}`, "d_1 p_1 b_1 R_1 N_1"},
		{"piece-sample", `{}`, "n m s x_min x_max j G t_G G_max r_1 z r_max t X_high X_low U m_low m_high s_low s_high y_low y_high n_E t_E E_n k_1 k_2 x_least x_most x_low x_high"},
		{"piece-sample", `{"weighings":["84 g","86 g"],"half_width":null}`, "n m s x_min x_max j G t X_high X_low U m_low m_high s_low s_high y_low y_high k_1 k_2 x_least x_most x_low x_high"},
		{"piece-sample", `{"weighings":["84 g","85 g","86 g"],"half_width":null}`, "n m s x_min x_max j G t_G G_max t X_high X_low U m_low m_high s_low s_high y_low y_high k_1 k_2 x_least x_most x_low x_high"},
		{"piece-sample", `{"weighings":["84 g","85 g","86 g","84 g","85 g","86 g","84 g","85 g","86 g"],"half_width":null}`, "n m s x_min x_max j G t_G G_max t X_high X_low U m_low m_high s_low s_high y_low y_high k_1 k_2 x_least x_most x_low x_high"},
		{"pieces-to-detect", `{}`, "z_a z_b n_z n t_a d Q_n d_n D_n"},
		{"pieces-to-detect", `{"sd":"1 g","shift":"1 kg"}`, "z_a z_b n_z n t_a d Q_n d_n D_n"},
		{"pieces-to-weigh", `{}`, "E_u z n_z n t t_1 U_1 U"},
		{"pieces-to-weigh", `{"group":6}`, "E_u z n_z n t g t_g U_g t_1 U_1 U"},
		{"pieces-to-weigh", `{"half_width":"100 g"}`, "E_u z n_z n t U"},
		{"run-length", `{}`, "R_0 R"},
		{"run-length", `{"kind":"individuals","ewma_weight":null,"sides":"one"}`, "p_0 p_a R_0 R"},
		{"run-length", `{"kind":"individuals","ewma_weight":null,"sides":"two"}`, "p_0 p_a p_b R_0 R"},
		{"scale-division", `{"sd":"0.005 g","variation":null}`, "u s_r d_s"},
		{"scale-division", `{"sd":null,"variation":"0.005 g"}`, "u d_max"},
		{"scale-division", `{}`, "u s_r d_s d_max"},
		{"sd-for-target", `{}`, "p T T_1 T_2 F_1 z_1 z_2 s"},
		{"sd-for-target", `{"rules":"us-hb133-a","first_share":"1 %","second_share":null}`, "T T_1 z_1 s"},
		{"set-up-chart", `{"kind":"individuals","subgroup_size":1,"weighings":["85 g","86 g","84 g"]}`, "M N m x_1 x_2 R_2 x_3 R_3 d2 d3 S s e R_m R_low R_high low high W_1 W_2 W_3 c f"},
		{"set-up-chart", `{"subgroup_size":2,"weighings":["85 g","86 g","84 g","85.5 g"]}`, "M N m x_1 R_1 x_2 R_2 d2 d3 S s e R_m R_low R_high low high W_1 W_2 c f"},
		{"set-up-chart", `{"kind":"averages-deviations","subgroup_size":2,"weighings":["85 g","86 g","84 g","85.5 g"]}`, "M N m x_1 R_1 x_2 R_2 c4 S s e R_m R_low R_high low high W_1 W_2 c f"},
		{"shift-for-pieces", `{"sides":"one"}`, "t_a d_n D_n"},
		{"slide-for-flow", `{}`, "X X_set F_set"},
		{"slide-for-flow", `{"slide_step":null}`, "X X_set F_set"},
		{"stickiness-fit", `{"trials":[{"stickiness":1,"flour":"90 g","pieces":120},{"stickiness":2,"flour":"130 g","pieces":120},{"stickiness":3,"flour":"185 g","pieces":120}]}`, "N x_low x_high x_m g_m S_xx S_xg b a s"},
		{"stickiness-fit", `{"trials":[{"stickiness":1,"flour":"90 g","pieces":120},{"stickiness":2,"flour":"130 g","pieces":120}]}`, "N x_low x_high x_m g_m S_xx S_xg b a"},
		{"strokes-for-rate", `{"strokes_low":null,"strokes_high":null}`, "P_r s"},
		{"target-weight", `{"pieces_per_day":null,"better_sd":null,"first_share":"1 %"}`, "[Dough for one of bread] k_f k_b k_c k D E L_d L_b [Target] p T T_1 T_2 z_1 z_2 m g D_1 D_2 D"},
		{"target-weight", `{"pieces_per_day":1,"better_sd":null}`, "[Dough for one of bread] k_f k_b k_c k D E L_d L_b [Target] p T T_1 T_2 F_1 z_1 z_2 m g D_1 D_2 G G_y C_d c_y C_y D"},
		{"target-weight", `{"pieces_per_day":1}`, "[Dough for one of bread] k_f k_b k_c k D E L_d L_b [Target] p T T_1 T_2 F_1 z_1 z_2 m g D_1 D_2 m_b G G_y C_d c_y C_y E D"},
		{"target-weight", `{"rules":"us-hb133-a","first_share":"1 %","second_share":null,"pieces_per_day":null}`, "[Dough for one of bread] k_f k_b k_c k D E L_d L_b [Target] T T_1 z_1 m g D_1 m_b D"},
		{"target-weight", `{"rules":"us-tx-434-007","nominal":"1 lb","first_share":"1 %","second_share":null,"pieces_per_day":null,"better_sd":null}`, "[Dough for one of bread] k_f k_b k_c k D E L_d L_b [Target] v T_1 U z_1 m g D_1 D"},
		{"tolerable-deficiency", `{}`, "p T T_1 T_2 f e"},
		{"tolerable-deficiency", `{"rules":"us-hb133-a"}`, "T T_1 f e"},
		{"tolerable-deficiency", `{"nominal":"250 g"}`, "T T_1 T_2 f e"},
		{"tolerance-factor", `{}`, "z_1 D t_1 k_1 k_2 z X k_h"},
		{"trial-plan", `{}`, "x_1 x_2 x_3 N f t x_m S_xx u v k P r r_m"},
		{"trial-plan", `{"shape":"quadratic"}`, "x_1 x_2 x_3 N f t x_m S_xx u S_qq v k P r r_m"},
		{"weighing-correlation", `{}`, "n m s S_0 S_1 z r_1 r_max r n_e s_e t t_n U m_low m_high u"},
		{"weighing-verdict", `{}`, "n x_m x_n q_G z_G q_G y_2 y_t x_f G chi2 s_w s_max e z m H h T_a c a_low a_high"},
		{"weighing-verdict", `{"weighings":["85 g","86 g","84.5 g"]}`, "n x_m x_n q_G z_G q_G y_2 y_t x_f G chi2 s_w s_max e z m H h T_a c a_low a_high"},
		{"weighing-verdict", `{"weighings":["85 g"]}`, "n x_m x_n q_G z_G q_G y_2 y_t G s_w s_max e z m H h T_a c a_low a_high"},
		{"weighing-verdict", `{"weighings":["85 g","84 g"]}`, "n x_m x_n q_G z_G q_G y_2 y_t G chi2 s_w s_max e z m H h T_a c a_low a_high"},
		{"weight-drift", `{"growth":"0.000001 %/min","drift_limit":null,"per_mark":null}`, "g m D F m_m"},
		{"weight-drift", `{"growth":"0 %/min","drift_limit":null,"per_mark":null}`, "g m D F m_m"},
		{"weight-drift", `{"drift_limit":"2 g","time":"9 min"}`, "g m D F m_m R t_1 x_1"},
		{"weight-drift", `{"drift_limit":"2 g","mark_step":0.1,"time":"9 min"}`, "g m D F m_m k t_1 x_1"},
		{"weight-drift", `{"drift_limit":null,"per_mark":null}`, "g m D F m_m"},
	} {
		e := entries[tt.id]
		in, err := testdata.Edge{}.Patch([]byte(e.Example), []byte(tt.patch))
		require.NoError(t, err)
		var w reckon.Working
		_, err = e.Run(in, &w)
		require.NoError(t, err, "%s %s", tt.id, tt.patch)
		var got []string
		for _, s := range w.Steps {
			switch s.Kind {
			case reckon.InputStep:
			case reckon.HeadingStep:
				got = append(got, "["+s.ID+"]")
			default:
				got = append(got, s.Symbol)
			}
		}
		assert.Equal(t, tt.symbols, strings.Join(got, " "), "%s with %s", tt.id, tt.patch)
		assert.NoError(t, testdata.Retrace(&w, 1e-9), "%s with %s", tt.id, tt.patch)
	}
}

// A quantile is told with the side of the distribution that the question names.
func TestWorkingsNameTheirSides(t *testing.T) {
	for sides, where := range map[divider.SampleSides][2]string{
		divider.TwoSided: {"n - 1 degrees of freedom, at (1 + P/100)/2, for two sides", "noncentral t with n - 1 degrees of freedom, beyond t_a or -t_a, found by bisection"},
		divider.OneSided: {"n - 1 degrees of freedom, at P/100, for one side", "noncentral t with n - 1 degrees of freedom, beyond t_a, found by bisection"},
	} {
		_, w, err := reckon.Explain(divider.ShiftForPieces{SD: 1, Pieces: 10, Confidence: 95, DetectionChance: 90, Sides: sides})
		require.NoError(t, err)
		sources := map[string]string{}
		for _, s := range w.Steps {
			sources[s.Symbol] = s.Source
		}
		assert.Equal(t, where, [2]string{sources["t_a"], sources["d_n"]})
	}
}
