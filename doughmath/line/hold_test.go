package line_test

import (
	"testing"

	"example.com/dough/testdata/hold"
)

// What other people printed of these calculations, and what their tags promise.
func TestHeld(t *testing.T) { hold.Station(t, "line", outlinedAnswers) }
