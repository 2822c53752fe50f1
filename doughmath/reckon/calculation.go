package reckon

// A Calculation is a question with everything that it needs to be answered:
// a plain struct whose fields are the inputs. R is the answer.
//
//	water, err := doughmath.WaterTemperature{Target: unit.Celsius(26), ...}.Solve()
type Calculation[R any] interface {
	// ID is the name that the reference calculator knows it by, such as "water-temperature".
	ID() string
	// Check tells everything that is wrong with the inputs. It computes nothing
	// that is not needed for that, so a form can call it while a person types.
	Check(c *Checks)
	// Solve returns the answer, or an *[InputError] for everything that is wrong
	// and a *[NoSolutionError] if no answer exists.
	Solve() (R, error)
	// Show records how the answer of Solve comes about.
	Show(w *Working, answer R)
}

// Explain solves q and shows the working. The working is nil if q has no answer.
func Explain[R any](q Calculation[R]) (R, *Working, error) {
	out, err := q.Solve()
	if err != nil {
		return out, nil, err
	}
	w := new(Working)
	q.Show(w, out)
	return out, w, nil
}

// Wrong returns everything that is wrong with the inputs of q, or nil. It does
// not solve q: a q with nothing wrong may still have no answer.
func Wrong[R any](q Calculation[R]) []*InputError {
	c := Checks{Func: q.ID()}
	q.Check(&c)
	return InputErrors(c.Err())
}
