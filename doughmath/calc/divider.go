package calc

func dividerEntries() []Entry { return []Entry{} }
