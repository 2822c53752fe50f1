package calc

import "example.com/dough/divider"

func lawEntries() []Entry {
	return []Entry{
		entry("tolerable-deficiency", "How far may one package fall short of its label?",
			`{"rules":"uk-2006-659","nominal":"400 g"}`,
			divider.ExplainTolerableDeficiency),
		entry("loaf-limits", "What may one loaf of a standard size weigh?",
			`{"rules":"us-tx-434-007","nominal":"1.5 lb"}`,
			divider.ExplainLoafLimits),
	}
}
