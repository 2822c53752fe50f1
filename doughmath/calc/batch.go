package calc

import "example.com/dough/doughmath"

func batchEntries() []Entry {
	return []Entry{
		entry("scaling-weight", "How much dough do I scale for this baked weight?",
			`{"baked":"500 g","fermentation":{"percent":"1 %","basis":"dough"},"bake":{"percent":"11 %","basis":"dough"},
			"cooling":{"percent":"2 %","basis":"baked"},"combine":"compounded"}`,
			doughmath.ExplainScalingWeight, "baked-weight-for-dough"),
		entry("baked-weight-for-dough", "How much will this piece weigh when it is baked?",
			`{"dough":"570 g","bake":{"percent":"11 %","basis":"dough"},"cooling":{"percent":"1 %","basis":"dough"},"combine":"added"}`,
			doughmath.ExplainBakedWeightForDough, "scaling-weight"),
		entry("loss-from-weights", "What does my bread lose?",
			`{"dough":"570 g","baked":"500 g"}`,
			doughmath.ExplainLossFromWeights, "scaling-weight"),
		entry("batch-plan", "How much dough does this order take, and in how many batches?",
			`{"pieces":2400,"piece_weight":"85 g","spare":24,"waste":"1.5 %","waste_basis":"order","mixer_most":"90 kg","mixer_least":"25 kg"}`,
			doughmath.ExplainBatchPlan, "pieces-for-dough"),
		entry("pieces-for-dough", "How many pieces does this dough give?",
			`{"dough":"80 kg","piece_weight":"85 g","waste":"1.5 %","waste_basis":"order"}`,
			doughmath.ExplainPiecesForDough, "batch-plan"),
		listEntry("mixed-batch-plan", "How much dough does an order of several pieces take, and in how many batches?",
			`{"order":[{"name":"rolls","pieces":600,"piece_weight":"85 g"},{"name":"loaves","pieces":80,"piece_weight":"570 g","spare":2}],
			"waste":"2 %","waste_basis":"dough","mixer_most":"60 kg"}`,
			doughmath.ExplainMixedBatchPlan),
	}
}
