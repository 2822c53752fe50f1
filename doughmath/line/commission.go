package line

import (
	"fmt"
	"strconv"

	"example.com/dough/divider"
	"example.com/dough/doughmath/reckon"
)

// Commissioned is a line that was checked and whose trial pieces were fitted,
// once, so that planning on it is quick. It may be shared by goroutines.
type Commissioned struct {
	line Line
	fits []divider.MarkFitResult // by index of Divider.Lanes
	has  parts
}

// Line returns the description that was commissioned.
func (cl *Commissioned) Line() *Line { return &cl.line }

// Commission checks a line and fits the weight against the mark for each way
// to run its divider. It refuses every value that is missing, impossible or at
// odds with another, and trials that cannot be fitted.
func Commission(l Line) (Commissioned, error) { return commission(l, nil) }

func commission(l Line, w *reckon.Working) (Commissioned, error) {
	c := reckon.Checks{Func: planID}
	l.check(&c)
	out := Commissioned{line: l, fits: l.fit(&c, w), has: l.parts()}
	if err := c.Err(); err != nil {
		return Commissioned{}, err
	}
	return out, nil
}

// fit fits the weight against the mark for each way to run the divider, if nothing was wrong before.
func (l *Line) fit(c *reckon.Checks, w *reckon.Working) []divider.MarkFitResult {
	fits := make([]divider.MarkFitResult, len(l.Divider.Lanes))
	for i, lanes := range l.Divider.Lanes {
		if !c.OK() {
			break
		}
		q := divider.MarkFit{
			Trials: lanes.Trials, Confidence: l.Divider.Confidence,
			Shape: lanes.Shape, Weighting: lanes.Weighting, Across: lanes.Across,
		}
		var err error
		if fits[i], err = q.Solve(); err != nil {
			c.Nest("", err) // no value of the trials is wrong: that was checked
			continue
		}
		if w != nil {
			of := ""
			if lanes.Dough != "" {
				of = " of " + lanes.Dough
			}
			w.Heading(fmt.Sprintf("Mark and weight%s, %s across", of, strconv.Itoa(lanes.Across)))
			q.Show(w, fits[i])
		}
	}
	return fits
}
