package calc

import "example.com/dough/divider"

func sampleEntries() []Entry {
	return []Entry{
		ask[divider.PieceSample]("What do the pieces I weighed show about all the pieces?",
			`{"weighings":["85.2 g","84.1 g","86.0 g","85.5 g","84.7 g","85.9 g","84.4 g","85.1 g","86.3 g","84.8 g"],"confidence":"95 %","share":"95 %","method":"exact","half_width":"0.5 g","division":"0.1 g"}`),
		ask[divider.WeighingCorrelation]("Do neighbouring pieces resemble one another, and what is their mean worth then?",
			`{"weighings":["85.9 g","87.1 g","87.4 g","86.4 g","86.8 g","86.2 g","85.1 g","84.8 g","84.9 g","85.6 g","85.8 g","85.8 g","86.2 g","84.8 g","85.6 g","85.4 g","85.7 g","85.7 g","84.8 g","84.7 g","84.3 g","85.1 g","85.1 g","85.0 g","84.8 g","84.5 g","85.4 g","84.5 g","84.7 g","85.0 g"],"confidence":"95 %"}`),
		ask[divider.PiecesToWeigh]("How many pieces must I weigh to know the mean this well?",
			`{"sd":"0.7 g","half_width":"0.3 g","confidence":"95 %"}`, "half-width-for-pieces"),
		ask[divider.HalfWidthForPieces]("How well do I know the mean from this many pieces?",
			`{"sd":"0.7 g","pieces":20,"confidence":"95 %"}`, "pieces-to-weigh"),
		ask[divider.PiecesToDetect]("How many pieces must I weigh to notice that the weight has moved?",
			`{"sd":"0.7 g","shift":"0.5 g","confidence":"95 %","detection_chance":"90 %","sides":"two"}`, "shift-for-pieces"),
		ask[divider.ShiftForPieces]("What change in weight will this many pieces show?",
			`{"sd":"0.7 g","pieces":20,"confidence":"95 %","detection_chance":"90 %","sides":"two"}`, "pieces-to-detect"),
		ask[divider.ToleranceFactor]("How many standard deviations must I allow to cover this share of the pieces?",
			`{"pieces":20,"share":"95 %","confidence":"95 %"}`),
		ask[divider.GroupSample]("What does weighing pieces together show, and what does it hide?",
			`{"groups":["512.4 g","510.8 g","511.5 g","513.0 g","509.9 g"],"pieces":6,"confidence":"95 %","division":"0.2 g"}`),
		ask[divider.WeighingVerdict]("Is a piece double or torn, or is it the mark?",
			`{"weighings":["84.6 g","85.3 g","85.1 g","84.2 g","85.9 g"],"expected":"85 g","target":"85 g","per_mark":"8.4 g","mark_step":0.1,"sd":"1 g","needless":"5 %"}`),
		ask[divider.ScaleDivision]("Is my scale fine enough?",
			`{"division":"1 g","sd":"0.7 g","variation":"7.2 g"}`),
		ask[divider.ChartConstants]("What are the control chart constants for this subgroup?",
			`{"subgroup_size":5}`),
		ask[divider.SetUpChart]("Is this run steady, and what are its control limits?",
			`{"kind":"averages-ranges","subgroup_size":4,"weighings":["85.2 g","84.1 g","86.0 g","85.5 g","84.7 g","85.9 g","84.4 g","85.1 g","86.3 g","84.8 g","85.0 g","85.6 g"],"limit_width":3,"rules":"zone-tests"}`),
		ask[divider.ControlChart]("Has the divider changed since the chart was set up?",
			`{"setup":{"kind":"averages-ranges","subgroup_size":4,"centre":"85.2 g","sd":"0.7 g","limit_width":3,"rules":"zone-tests"},"weighings":["85.4 g","84.6 g","85.9 g","85.0 g","86.6 g","86.9 g","87.1 g","86.2 g"]}`),
		ask[divider.RunLength]("How soon does a chart show that the weight has moved?",
			`{"kind":"ewma","shift_in_sd":1,"sides":"two","limit_width":2.962,"ewma_weight":0.2}`),
		ask[divider.OperatingCurve]("How likely is a subgroup to miss a change in weight?",
			`{"subgroup_size":5,"limit_width":3,"shifts":[0,0.5,1,1.5,2]}`),
		ask[divider.Capability]("Are the pieces steady enough for the tolerance?",
			`{"mean":"85.2 g","sd_within":"0.7 g","sd_overall":"0.8 g","pieces":100,"low":"82 g","high":"88 g","target":"85 g","confidence":"95 %","required":1.33}`,
			"sd-for-capability"),
		ask[divider.SDForCapability]("How little must the pieces scatter to meet the tolerance?",
			`{"mean":"85.2 g","low":"82 g","high":"88 g","cpk":1.33}`, "capability"),
	}
}
