package reckon

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What is carried is told by its value and its unit, then by the words that two names share, small ones aside, and then
// by the symbol; of equals by the latest. A small whole number may mean anything, and so may what is also an input.
func TestCarried(t *testing.T) {
	at := func(kind StepKind, id, symbol string, value float64, unit string) Step {
		return Step{Kind: kind, ID: id, Symbol: symbol, Value: value, Unit: unit}
	}
	heading := Step{Kind: HeadingStep, ID: "Later"}
	dough, stock := at(WorkedStep, "dough", "D", 5000, "g"), at(InputStep, "stock", "K", 5000, "g")
	for _, c := range []struct {
		id     string
		before []Step
		given  Step
		source string // of what is carried; "" for an input
		names  string // the symbol that stands for it still
	}{
		{"words and symbol", []Step{dough, heading}, at("", "dough to weigh", "D", 5000, "g"), "dough", "D"},
		{"the value alone", []Step{dough}, at("", "batch", "M", 5000, "g"), "dough", "D"},
		{"another value", []Step{dough}, at("", "dough", "D", 5001, "g"), "", ""},
		{"another unit", []Step{dough}, at("", "dough", "D", 5000, "mm"), "", ""},
		{"an input as well", []Step{stock, dough}, at("", "batch", "M", 5000, "g"), "", ""},
		{"but a word in common", []Step{stock, dough}, at("", "dough for one", "M", 5000, "g"), "dough", "D"},
		{"or the symbol", []Step{stock, dough}, at("", "batch", "D", 5000, "g"), "dough", "D"},
		{"a word of three letters is none", []Step{stock, at(WorkedStep, "for all", "D", 5000, "g")}, at("", "for it", "M", 5000, "g"), "", ""},
		{"one of four is", []Step{stock, at(WorkedStep, "rest of it", "D", 5000, "g")}, at("", "a rest", "M", 5000, "g"), "rest of it", "D"},
		{"a root", []Step{at(RootStep, "root", "x", 2.5, "")}, at("", "y", "y", 2.5, ""), "root", "x"},
		{"a table", []Step{at(TableStep, "table", "x", 2.5, "")}, at("", "y", "y", 2.5, ""), "table", "x"},
		{"the latest of equals", []Step{dough, at(WorkedStep, "mix", "X", 5000, "g")}, at("", "batch", "M", 5000, "g"), "mix", "X"},
		{"a word before a symbol", []Step{dough, at(WorkedStep, "mix", "M", 5000, "g")}, at("", "dough in all", "M", 5000, "g"), "dough", "D"},
		{"two words before one", []Step{at(WorkedStep, "warm dough", "W", 5000, "g"), dough}, at("", "warm dough today", "Z", 5000, "g"), "warm dough", "W"},
		{"a small whole number", []Step{at(WorkedStep, "batches", "b", 2, "")}, at("", "batches", "n", 2, ""), "", ""},
		{"with its symbol", []Step{at(WorkedStep, "batches", "b", 2, "")}, at("", "lanes", "b", 2, ""), "batches", "b"},
		{"99", []Step{at(WorkedStep, "pieces", "b", 99, "")}, at("", "count", "n", 99, ""), "", ""},
		{"100", []Step{at(WorkedStep, "pieces", "b", 100, "")}, at("", "count", "n", 100, ""), "pieces", "b"},
		{"a broken number", []Step{at(WorkedStep, "ratio", "b", 2.5, "")}, at("", "share", "n", 2.5, ""), "ratio", "b"},
		{"a small quantity", []Step{at(WorkedStep, "salt", "b", 5, "g")}, at("", "share", "n", 5, "g"), "salt", "b"},
		{"a hundredth of a gram", []Step{at(WorkedStep, "salt", "b", 0.01, "g")}, at("", "share", "n", 0.01, "g"), "salt", "b"},
		{"nothing", []Step{at(WorkedStep, "loss", "b", 0, "g")}, at("", "share", "n", 0, "g"), "", ""},
		{"a symbol that stands for another by now", []Step{dough, at(WorkedStep, "more", "D", 7000, "g")}, at("", "dough", "D", 5000, "g"), "dough", ""},
		{"and for the same of another unit", []Step{dough, at(WorkedStep, "length", "D", 5000, "mm")}, at("", "dough", "D", 5000, "g"), "dough", ""},
		{"a constant of an earlier part", []Step{at(ConstantStep, "melting", "k", 334, "kJ/kg"), heading}, at("", "melting", "k", 334, "kJ/kg"), "", ""},
		{"a constant of another symbol", []Step{at(ConstantStep, "melting", "k", 334, "kJ/kg")}, at("", "melting", "h", 334, "kJ/kg"), "", ""},
		{"an input again", []Step{stock}, at("", "stock", "K", 5000, "g"), "", ""},
	} {
		w := Working{Steps: c.before}
		w.Carried(c.given.ID, c.given.Symbol, c.given.Value, c.given.Unit)
		want := c.given
		if want.Kind, want.Expression = InputStep, c.names; c.source != "" {
			want.Kind, want.Source = CarriedStep, c.source+", from above"
		}
		assert.Equal(t, append(c.before[:len(c.before):len(c.before)], want), w.Steps, c.id)
	}
	w := Working{Steps: []Step{at(ConstantStep, "melting", "k", 334, "kJ/kg")}}
	w.Carried("melting", "k", 334, "kJ/kg")
	assert.Len(t, w.Steps, 1, "a constant that this part has is not said again")
}
