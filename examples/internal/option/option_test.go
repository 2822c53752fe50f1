package option_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/dough/examples/internal/option"
)

func TestList(t *testing.T) {
	for text, want := range map[string][]string{
		"":                                {},
		"turns":                           {"turns"},
		"turns, diameter (mm)":            {"turns", "diameter (mm)"},
		"orders[Roll, long].target,water": {"orders[Roll, long].target", "water"},
		",turns,,":                        {"turns"},
		"turns, ,water":                   {"turns", "", "water"},
		"orders[open,water":               {"orders[open,water"},
		"closed],water":                   {"closed]", "water"},
	} {
		assert.Equal(t, want, option.List(text), text)
	}
}

func TestByEnding(t *testing.T) {
	assert.Equal(t, []string{"jsonl", "csv", "table"}, option.ByEnding("rows.jsonl", "table", "csv", "jsonl"))
	assert.Equal(t, []string{"table", "csv"}, option.ByEnding("rows", "table", "csv"))
}
