package line

import (
	"strconv"
	"time"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// RunRecord is one run as it was: what was planned, where the controls stood in the end, and how it came out.
// A shop keeps it, and [KnownGood] starts the next plan from it.
type RunRecord struct {
	Date      string        `json:"date"`                                      // day of the run, such as "2026-11-26"
	Line      Line          `json:"line" sym:"-"`                              // the equipment as it stood
	Order     Order         `json:"order" sym:"-"`                             // what was made
	Shift     Shift         `json:"shift" sym:"-"`                             // the day's conditions
	Settings  []Standing    `json:"settings" items:"..100"`                    // where the controls stood when the pieces were as they came out
	Good      bool          `json:"good"`                                      // true if the pieces were as wanted
	Made      int           `json:"made,omitzero" range:"0..100000000"`        // good pieces made
	Weighed   int           `json:"weighed,omitzero" range:"0..100000000"`     // pieces weighed
	Mean      unit.Mass     `json:"mean,omitzero" range:"0 g..1000 kg"`        // their mean weight as dough
	SD        unit.Mass     `json:"sd,omitzero" range:"0 g..1000 kg"`          // their standard deviation
	DoughTemp unit.Temp     `json:"dough_temp,omitzero" range:"-10 °C..60 °C"` // dough temperature met
	Waited    unit.Duration `json:"waited,omitzero" range:"0 s..24 h"`         // how long the line waited for dough or stood
	Note      string        `json:"note,omitzero"`                             // what else there is to say
}

// RunBook is the records that a shop keeps, the oldest first.
type RunBook struct {
	Records []RunRecord `json:"records" items:"..1000"` // one for each run
}

// The longest lists of records.
const (
	mostKept    = 1000
	mostRecords = 200 // in one question
	longestNote = 1000
)

// ReadRunBook reads the records that a shop keeps from JSON.
//
// It returns an *[reckon.InputError], with the JSON path as its field, for every unknown name, missing value, missing
// unit and value out of its range, all at once.
func ReadRunBook(data []byte) (RunBook, error) {
	b, err := reckon.Decode[RunBook]("run-book", data)
	if err != nil {
		return RunBook{}, err
	}
	c := reckon.Checks{Func: "run-book"}
	if b.Check(&c); !c.OK() {
		return RunBook{}, c.Err()
	}
	return *b, nil
}

// Check tells what is wrong with the records.
func (b *RunBook) Check(c *reckon.Checks) {
	if !reckon.CheckItems(c, "records", len(b.Records), mostKept) {
		return
	}
	for i := range b.Records {
		mark := c.Mark()
		b.Records[i].check(c)
		c.Item(mark, "records", i)
	}
}

// Of returns the records of one product on one line, in their order.
func (b *RunBook) Of(line, product string) []RunRecord {
	var list []RunRecord
	for _, r := range b.Records {
		if r.Line.Name == line && r.Order.Product.Name == product {
			list = append(list, r)
		}
	}
	return list
}

func (r *RunRecord) check(c *reckon.Checks) {
	if !isDay(r.Date) {
		c.Fail("date", strconv.Quote(unit.Clip(r.Date)), `a day, as in "2026-11-26"`)
	}
	r.plan().under(c, "order")
	r.Line.checkStands(c, "settings", r.Settings)
	reckon.CheckCount(c, "made", r.Made, 0, mostPieces)
	reckon.CheckCount(c, "weighed", r.Weighed, 0, mostPieces)
	reckon.CheckRange(c, "mean", r.Mean, 0, unit.Kilograms(1000))
	reckon.CheckRange(c, "sd", r.SD, 0, unit.Kilograms(1000))
	if r.DoughTemp.Given() {
		reckon.CheckTemp(c, "dough_temp", r.DoughTemp, unit.Celsius(-10), unit.Celsius(60))
	}
	reckon.CheckRange(c, "waited", r.Waited, 0, longest)
	if len(r.Note) > longestNote {
		c.Fail("note", strconv.Quote(unit.Clip(r.Note)), "up to "+strconv.Itoa(longestNote)+" bytes")
	}
}

func (r *RunRecord) plan() Plan { return Plan{Line: r.Line, Order: r.Order, Shift: r.Shift} }

// isDay reports whether a text is a day of the calendar.
func isDay(text string) bool {
	_, err := time.Parse(time.DateOnly, text)
	return err == nil
}
