package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// However a table is cut into two shifts, with the state kept between them, what is said of it is the same as in one run.
func FuzzShifts(f *testing.F) {
	f.Add([]byte("the divider of this plant weighs what it will, and we weigh on"), uint8(20), false)
	f.Add([]byte{}, uint8(0), true)
	f.Fuzz(func(t *testing.T, weights []byte, cut uint8, lanes bool) {
		const header = "lane,weight (g)\n"
		rows := make([]string, 0, 120)
		for i, b := range append(weights, "0123456789abcdefghijklmnopqrstuvwxyz0123456789"...) {
			if len(rows) == cap(rows) {
				break
			}
			lane := 1
			if lanes {
				lane += i % 2
			}
			rows = append(rows, fmt.Sprintf("%d,%.2f\n", lane, 84+float64(b)/128))
		}
		at := int(cut) % len(rows)
		shift := func(state string, rows []string) string {
			said := checkweigh(header+strings.Join(rows, ""), "-state", state, "-setup", "5", "-")
			require.Equal(t, exitOK, said.code, said.err)
			return passing.ReplaceAllString(said.out, "")
		}
		whole, first := filepath.Join(t.TempDir(), "whole.json"), filepath.Join(t.TempDir(), "first.json")
		assert.Equal(t, shift(whole, rows), shift(first, rows[:at])+shift(first, rows[at:]))
	})
}

// A file that is no state is refused by name and left as it was; one that is taken up is one that the program writes.
func FuzzState(f *testing.F) {
	f.Add([]byte(`{"chart":{"kind":"averages-ranges","subgroup_size":4,"limit_width":3,"rules":"zone-tests"},"lanes":[{"lane":1,"set_up":["85 g"]}]}`))
	f.Add([]byte(`{"lanes":[{"lane":1,"watch":{}}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		name := filepath.Join(t.TempDir(), "state.json")
		require.NoError(t, os.WriteFile(name, data, 0o600))
		const row = "lane,weight (g)\n1,85.1\n"
		said := checkweigh(row, "-state", name, "-")
		kept, err := os.ReadFile(name)
		require.NoError(t, err)
		if said.code != exitOK {
			assert.Contains(t, said.err, "state.json")
			assert.Equal(t, data, kept, "it was refused and is written over")
			return
		}
		said = checkweigh(row, "-state", name, "-")
		assert.Equal(t, exitOK, said.code, "what it wrote it does not take: %s", said.err)
	})
}
