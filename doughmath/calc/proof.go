package calc

func proofEntries() []Entry { return []Entry{} }
