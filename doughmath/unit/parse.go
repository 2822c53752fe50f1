package unit

// Parse reads the text of a quantity of q's kind, whatever q is, and returns
// the value in the unit held: what [Held] returns of the quantity read. It is
// for whoever knows the kind at run time only.
func Parse(q Quantity, text string) (float64, error) {
	if _, ok := q.(Temp); ok {
		t, err := ParseTemp(text)
		return t.celsius, err
	}
	return q.dimension().parse(text)
}
