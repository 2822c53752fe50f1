package calc

import "example.com/dough/doughmath"

func batchEntries() []Entry {
	return []Entry{
		ask[doughmath.ScalingWeight]("What dough weight do I scale for this baked weight?",
			`{"baked":"500 g","fermentation":{"percent":"1 %","basis":"dough"},"bake":{"percent":"11 %","basis":"dough"},
			"cooling":{"percent":"2 %","basis":"baked"},"combine":"compounded"}`,
			"baked-weight-for-dough"),
		ask[doughmath.BakedWeightForDough]("How much will this piece weigh once it is baked?",
			`{"dough":"570 g","bake":{"percent":"11 %","basis":"dough"},"cooling":{"percent":"1 %","basis":"dough"},"combine":"added"}`,
			"scaling-weight"),
		ask[doughmath.LossFromWeights]("How much weight does my bread lose?",
			`{"dough":"570 g","baked":"500 g"}`,
			"scaling-weight"),
		ask[doughmath.BatchPlan]("How much dough does this order take, and in how many batches?",
			`{"pieces":2400,"piece_weight":"85 g","spare":24,"waste":"1.5 %","waste_basis":"order","mixer_high":"90 kg","mixer_low":"25 kg"}`,
			"pieces-for-dough"),
		ask[doughmath.PiecesForDough]("How many pieces do I get from this dough?",
			`{"dough":"80 kg","piece_weight":"85 g","waste":"1.5 %","waste_basis":"order"}`,
			"batch-plan"),
		ask[doughmath.MixedBatchPlan]("How much dough does a mixed order take, and in how many batches?",
			`{"order":[{"name":"rolls","pieces":600,"piece_weight":"85 g"},{"name":"loaves","pieces":80,"piece_weight":"570 g","spare":2}],
			"waste":"2 %","waste_basis":"dough","mixer_high":"60 kg"}`),
	}
}
