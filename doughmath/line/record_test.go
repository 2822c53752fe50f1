package line_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
)

// A book holds a thousand records, and a note a thousand bytes; days are those of the calendar.
func TestRecordBounds(t *testing.T) {
	wrong := func(b line.RunBook) (fields []string) {
		c := reckon.Checks{Func: "run-book"}
		b.Check(&c)
		for _, e := range reckon.InputErrors(c.Err()) {
			fields = append(fields, e.Field)
		}
		return fields
	}
	one := ran(t, 0, 1)
	book := line.RunBook{}
	for range 1000 {
		book.Records = append(book.Records, one)
	}
	assert.Empty(t, wrong(book))
	book.Records = append(book.Records, line.RunRecord{})
	assert.Equal(t, []string{"records"}, wrong(book), "beyond the bound nothing else is looked at")
	for day, ok := range map[string]bool{
		"2026-11-26": true, "2024-02-29": true, "2026-02-29": false, "2026-04-31": false, "26-11-2026": false, "2026-11-26 ": false, "2026-1-1": false, "": false,
	} {
		one.Date = day
		assert.Equal(t, ok, len(wrong(line.RunBook{Records: []line.RunRecord{one}})) == 0, day)
	}
	one = ran(t, 0, 1)
	for n, ok := range map[int]bool{0: true, 1000: true, 1001: false} {
		one.Note = strings.Repeat("x", n)
		assert.Equal(t, ok, len(wrong(line.RunBook{Records: []line.RunRecord{one}})) == 0, "%d bytes", n)
	}
	// The same in a question, which takes 200.
	q := knownGood(t, 0)
	for range 200 {
		q.Records = append(q.Records, ran(t, 0, 1))
	}
	assert.Empty(t, reckon.Wrong(q), "of one day, too")
	q.Records = append(q.Records, line.RunRecord{})
	list := reckon.Wrong(q)
	require.Len(t, list, 1)
	assert.Equal(t, "records", list[0].Field)
}
