package calc

import "slices"

// weightEntries are the calculations on weighed pieces: what the sample shows,
// and what the rules make of it.
func weightEntries() []Entry { return slices.Concat(sampleEntries(), lawEntries()) }
