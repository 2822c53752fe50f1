package calc

import "example.com/dough/doughmath/line"

func windowEntries() []Entry {
	return []Entry{
		ask[line.Window]("Which speeds, batches, numbers across and roller gaps work for this product, what limits them, what would a little more of a limit buy, and where nothing works, why not?", lineWindowExample),
	}
}

// lineWindowExample asks for everything at which the same loaf runs.
const lineWindowExample = `{"line":` + changedLine + `,"order":` + changedOrder + `,"shift":` + changedShift + `}`
