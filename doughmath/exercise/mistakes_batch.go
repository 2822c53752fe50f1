package exercise

var batchMistakes = []Mistake{
	{ID: "loss-added-for-divided", Calculation: "scaling-weight", Asked: "dough", Relation: "B*(1 + (l_f + l_b + l_c)/100)", Says: "A loss counted on the weight that goes in is divided off, not added on: what is left is the baked weight."},
	{ID: "loss-taken-off", Calculation: "scaling-weight", Asked: "dough", Relation: "B*(1 - (l_f + l_b + l_c)/100)", Says: "The dough weighs more than the bread: the loss makes it heavier, not lighter."},
	{ID: "bake-loss-alone", Calculation: "scaling-weight", Asked: "dough", Relation: "B/(1 - l_b/100)", Says: "Dough loses weight in fermenting and cooling too, not in the oven alone."},
	{ID: "loss-on-the-other-weight", Calculation: "scaling-weight", Asked: "loss_on_dough", Relation: "L_b", Says: "That is the loss over the baked weight; on the dough it is less."},
	{ID: "loss-on-the-dough-weight", Calculation: "scaling-weight", Asked: "loss_on_baked", Relation: "L_d", Says: "That is the loss over the dough weight; on the baked weight it is more."},
	{ID: "baked-loss-the-wrong-way", Calculation: "baked-weight-for-dough", Asked: "baked", Relation: "D*(1 + (l_b + l_c)/100)", Says: "Bread weighs less than its dough: take the loss off."},
	{ID: "baked-cooling-forgotten", Calculation: "baked-weight-for-dough", Asked: "baked", Relation: "D*(1 - l_b/100)", Says: "The loaf loses weight while it cools as well."},
	{ID: "measured-loss-on-baked", Calculation: "loss-from-weights", Asked: "loss_on_dough", Relation: "L_b", Says: "The loss on the dough is over the dough weight, not over the baked weight."},
	{ID: "measured-loss-on-dough", Calculation: "loss-from-weights", Asked: "loss_on_baked", Relation: "L_d", Says: "The loss on the bread is over the baked weight, not over the dough weight."},
	{ID: "batches-rounded-down", Calculation: "batch-plan", Asked: "batches", Relation: "floor(D/M)", Says: "A part of a batch has to be mixed too: round up."},
	{ID: "order-waste-forgotten", Calculation: "batch-plan", Asked: "dough", Relation: "n*m", Says: "Waste takes dough besides the pieces: add the allowance."},
	{ID: "order-spare-forgotten", Calculation: "batch-plan", Asked: "pieces_made", Relation: "n_o", Says: "The spare pieces have to be made as well."},
	{ID: "mixer-filled", Calculation: "batch-plan", Asked: "batch_dough", Relation: "M", Says: "The batches are of equal size: share the order, do not fill the mixer and leave a rest."},
	{ID: "batches-of-bare-pieces", Calculation: "batch-plan", Asked: "batch_dough", Relation: "n_b*m", Says: "Each batch carries its share of the waste."},
	{ID: "pieces-waste-forgotten", Calculation: "pieces-for-dough", Asked: "pieces", Relation: "floor(D/m)", Says: "Some of the dough is lost as waste: a piece takes more than its weight."},
	{ID: "pieces-rounded-up", Calculation: "pieces-for-dough", Asked: "pieces", Relation: "n + 1", Says: "A part of a piece is no piece: round down."},
	{ID: "mixed-waste-forgotten", Calculation: "mixed-batch-plan", Asked: "dough", Relation: "D_o", Says: "Waste takes dough besides the pieces: add the allowance."},
}
