// Calc is the reference calculator at the command line: every calculation of
// the library by its id, for one set of values or for a file of rows.
package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode"

	"example.com/dough/doughmath/calc"
	"example.com/dough/doughmath/calc/describe"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/program"
	"example.com/dough/examples/internal/tabular"
)

const help = `calc works out dough make-up: every calculation has an id and a question.

  calc list [-station NAME] [WORD...]        what there is; with words that start so
  calc about [-json] ID                      what to give, what to get, a worked example
  calc do [OPTION...] ID VALUES              work it out
  calc solve [OPTION...] ID UNKNOWN VALUES   the same relation for another unknown: turned round if a
                                             listed calculation does that, or any numeric input searched for
  calc rows [OPTION...] ID [FILE]            work it out for every row of a file or of the input

VALUES are flags named as "about" lists them (-piece "3 oz"), or one JSON
object, or - to read that object from the input; FILE may be - too. Every
quantity has its unit. A list of values can be separated by commas; other
lists are JSON.

Options
  -units metric|us       in which units results are shown
  -working               show every step, in metric units (do, solve, and rows to jsonl)
  -json                  a JSON object with every digit (do, solve), and one with "errors" in
                         place of it; the description with the JSON Schemas (about)
  -from VALUE -upto VALUE where to search for an input (solve); else its whole range

Options of rows
  -base OBJECT|FILE      what is the same for all rows, as JSON: the rows hold what differs
  -want PATH,PATH        the outputs to write; a unit may follow: "dough_rate (t/h)"
  -echo                  write the inputs of each row too (from csv)
  -keep NAME,NAME        columns that are not inputs and are copied (from csv)
  -from csv|jsonl        what FILE holds; by its ending, else csv
  -to table|csv|jsonl    what to write; by the ending of -file, else table
  -file NAME             the file to write, whole or not at all
  -bad stop|skip         at a row that cannot be worked out: stop, or report it and go on;
                         else stop

A CSV file has the paths of the inputs in its first line, such as length or
order.product.baked. A unit may stand in each cell, or once in the header:
length (mm). An empty cell is not given, or as in the base. In JSON Lines, a row is
put into the base as a merge patch (RFC 7396), where a name may be a path.
Every column that is written has one unit, which stands in its name. A row that
cannot be worked out is reported with its number, field and value; with -bad skip
it has its error in the last column.

Leaves with 0 if all was worked out, 1 if something could not be, 2 if it was
called wrongly, 3 if a file or what is printed could not be read or written, 4 if it
was interrupted: then the rows that were printed are whole, and no file was written.

Examples
  go run ./examples/calc list turns
  go run ./examples/calc about curls
  go run ./examples/calc do curls -length "300 mm" -thickness "5 mm"
  go run ./examples/calc do -units us -working water-temperature -target_temp "78 °F" -flour_temp "70 °F" -room "72 °F" -friction "24 F°" -friction_basis once
  go run ./examples/calc do -json curls '{"length":"30 cm","thickness":"5 mm","core":"10 mm"}'
  go run ./examples/calc solve curls thickness -length "300 mm" -turns 2.5
  go run ./examples/calc solve curls core -length "300 mm" -thickness "5 mm" -turns 3
  go run ./examples/calc rows -keep batch curls examples/calc/sheets.csv
  go run ./examples/calc rows -to jsonl -bad skip curls examples/calc/sheets.jsonl
  go run ./examples/calc rows -base '{"length":"300 mm"}' -want turns -to jsonl curls examples/calc/sheets.jsonl
`

// The exit codes.
const (
	done        = 0
	refused     = 1 // a calculation could not be done
	misused     = 2 // the command line is wrong
	broken      = 3 // a file could not be read or written
	interrupted = 4
)

func main() {
	out, complaints := program.Outputs()
	os.Exit(run(program.Context(), os.Args[1:], os.Stdin, out, complaints))
}

// app is one run of the program.
type app struct {
	ctx      context.Context
	in       io.Reader
	out, err io.Writer
}

func run(ctx context.Context, args []string, in io.Reader, out, stderr io.Writer) int {
	a := app{ctx, in, out, stderr}
	if len(args) == 0 || slices.Contains([]string{"help", "-h", "-help", "--help"}, args[0]) {
		return a.print([]byte(help))
	}
	switch name, rest := args[0], args[1:]; name {
	case "list":
		return a.list(rest)
	case "about":
		return a.about(rest)
	case "do", "solve":
		return a.do(rest, name == "solve")
	case "rows":
		return a.rows(rest)
	default:
		return a.fail(misused, fmt.Errorf("no command is called %q: list, about, do, solve or rows", name))
	}
}

func (a app) print(b []byte) int {
	if _, err := a.out.Write(b); err != nil {
		return a.fail(broken, err)
	}
	return done
}

func (a app) fail(code int, err error) int {
	for line := range strings.Lines(err.Error()) {
		a.say("%s", strings.TrimSuffix(line, "\n"))
	}
	return code
}

// say prints a line for a person. There is nobody to tell if that fails.
func (a app) say(format string, args ...any) {
	_, _ = io.WriteString(a.err, tabular.Harmless(fmt.Sprintf(format, args...), false)+"\n")
}

// options reads the flags in front of the id with the given names.
func (a app) options(args []string, names ...string) (set map[string]string, rest []string, ok bool) {
	flags := flag.NewFlagSet("calc", flag.ContinueOnError)
	flags.SetOutput(io.Discard)
	set = map[string]string{}
	for _, n := range names {
		if name, isSwitch := strings.CutSuffix(n, "?"); isSwitch {
			flags.BoolFunc(name, "", func(v string) error { set[name] = v; return nil })
			continue
		}
		flags.Func(n, "", func(v string) error { set[n] = v; return nil })
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			a.print([]byte(help))
		} else {
			a.fail(misused, fmt.Errorf("%w: calc help lists the options", err))
		}
		return nil, nil, false
	}
	return set, flags.Args(), true
}

// choose returns the option's word, or the first one if it was not given.
func choose(set map[string]string, name string, words ...string) (string, error) {
	got, given := set[name]
	switch {
	case !given:
		return words[0], nil
	case slices.Contains(words, got):
		return got, nil
	}
	return "", fmt.Errorf("-%s is %q: want %s", name, got, strings.Join(words, " or "))
}

func evalOptions(set map[string]string) (calc.Options, error) {
	units, err := choose(set, "units", "metric", "us")
	o := calc.Options{Working: set["working"] == "true"}
	if units == "us" {
		o.Units = unit.US
	}
	return o, err
}

// find looks the id up; the error offers the nearest.
func find(id string) (calc.Entry, error) {
	if e, ok := calc.Lookup(id); ok {
		return e, nil
	}
	_, err := calc.Eval(id, nil, calc.Options{})
	return calc.Entry{}, err
}

func (a app) list(args []string) int {
	set, said, ok := a.options(args, "station")
	if !ok {
		return misused
	}
	between := func(r rune) bool { return !unicode.IsLetter(r) }
	words := strings.FieldsFunc(strings.ToLower(strings.Join(said, " ")), between) // one by one, or several in quotes
	var b []byte
	var stations []string
	for _, e := range calc.Entries() {
		if !slices.Contains(stations, e.Station) {
			stations = append(stations, e.Station)
		}
		if station, given := set["station"]; given && station != e.Station {
			continue
		}
		there := strings.FieldsFunc(strings.ToLower(e.ID+" "+e.Station+" "+e.Question+" "+everyday(describe.Of(e))), between)
		missing := func(w string) bool {
			return !slices.ContainsFunc(there, func(t string) bool { return strings.HasPrefix(t, w) })
		}
		if !slices.ContainsFunc(words, missing) {
			b = fmt.Appendf(b, "%-30s %-12s %s\n", e.ID, e.Station, e.Question)
		}
	}
	if len(b) == 0 {
		return a.fail(refused, fmt.Errorf("nothing there; the stations are %s", strings.Join(stations, ", ")))
	}
	return a.print(b)
}

// everyday is the summary, and the words that an input takes with what they mean: "sticky" finds the calculation
// that takes a symptom.
func everyday(about describe.Description) string {
	var text strings.Builder
	text.WriteString(about.Summary)
	for _, f := range about.Inputs {
		if strings.Contains(f.Name, ".") {
			continue // a detail of a part
		}
		for _, c := range f.Choices {
			text.WriteString(" " + c.Word + " " + c.Meaning)
		}
	}
	return text.String()
}

func (a app) about(args []string) int {
	set, rest, ok := a.options(args, "json?", "units")
	if !ok {
		return misused
	}
	if len(rest) != 1 {
		return a.fail(misused, errors.New("about needs the id of one calculation: calc list shows them"))
	}
	e, err := find(rest[0])
	if err != nil {
		return a.fail(misused, err)
	}
	o, err := evalOptions(set)
	if err != nil {
		return a.fail(misused, err)
	}
	if set["json"] != "true" {
		page, err := describe.Of(e).AppendMarkdown(nil, o.Units, nil)
		if err != nil {
			return a.fail(refused, err)
		}
		return a.print(page)
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(map[string]any{"about": describe.Of(e), "input": describe.InputSchema(e), "output": describe.OutputSchema(e)}); err != nil {
		return a.fail(refused, err)
	}
	return a.print(b.Bytes())
}

func (a app) do(args []string, solve bool) int {
	names := []string{"units", "working?", "json?"}
	if solve {
		names = append(names, "from", "upto")
	}
	set, rest, ok := a.options(args, names...)
	if !ok {
		return misused
	}
	text, code, err := a.answered(set, rest, solve)
	if err == nil {
		return a.print(text)
	}
	if set["json"] == "true" {
		id := ""
		if len(rest) > 0 {
			id = rest[0]
		}
		a.print(refusal(err, "calculation", id))
	}
	return a.fail(code, err)
}

// answered works one set of values out.
func (a app) answered(set map[string]string, rest []string, solve bool) (text []byte, code int, err error) {
	o, err := evalOptions(set)
	if err != nil {
		return nil, misused, err
	}
	o.Rounded = set["json"] != "true"
	if len(rest) == 0 {
		return nil, misused, errors.New("give the id of a calculation: calc list shows them")
	}
	e, err := find(rest[0])
	if err != nil {
		return nil, misused, err
	}
	rest = rest[1:]
	if solve {
		if len(rest) == 0 || strings.HasPrefix(rest[0], "-") {
			return nil, misused, fmt.Errorf("solve needs the name of an unknown after %s", e.ID)
		}
		unknown := rest[0]
		rest = rest[1:]
		names, cells, _ := named(rest)
		inverse, search, err := solving(e, unknown, names)
		if err != nil {
			return nil, misused, err
		}
		if search && len(names) > 0 {
			return a.seek(e, set, unknown, names, cells)
		}
		e = inverse
	}
	if len(rest) == 1 && slices.Contains([]string{"-h", "-help", "--help"}, rest[0]) {
		text, err = describe.Of(e).AppendMarkdown(nil, o.Units, nil)
		return text, refused, err
	}
	for _, r := range rest {
		if option := strings.TrimLeft(r, "-"); r != option && slices.Contains([]string{"units", "working", "json"}, option) {
			return nil, misused, fmt.Errorf("%s stands after the id: put it before %s", r, e.ID)
		}
	}
	object, code, err := a.values(e, rest)
	if err != nil {
		return nil, code, err
	}
	r, err := e.Eval(object, o)
	if err != nil {
		return nil, refused, err
	}
	text, err = answer(r, o)
	if solve && o.Rounded {
		text = slices.Concat([]byte(e.ID+": "+e.Question+"\n\n"), text)
	}
	return text, refused, err
}

// answer writes one result for a program, or for a person.
func answer(r calc.Result, o calc.Options) ([]byte, error) {
	if !o.Rounded {
		b, err := r.AppendJSON(nil)
		return append(b, '\n'), err
	}
	var b []byte
	if o.Working {
		b = append(calc.AppendWorking(b, r.Working, o.Units), '\n')
	}
	b, err := r.AppendText(b)
	return appendRemarks(b, reckon.Distinct(r.Conditions), r.Cautions), err
}

// appendRemarks appends the sentences that a person must not miss.
func appendRemarks(b []byte, conditions []reckon.Note, cautions reckon.Cautions) []byte {
	add := func(title string, notes []reckon.Note) {
		if len(notes) > 0 {
			b = append(b, "\n"+title+"\n"...)
		}
		for _, n := range notes {
			b = append(b, "  "+n.Word+": "+n.Says+"\n"...)
		}
	}
	add("Look out for", conditions)
	add("Take care", cautions.Notes())
	if cautions != 0 {
		b = append(b, "  "+reckon.CautionDeference+"\n"...)
	}
	return b
}

// values makes the JSON input from what follows the id.
func (a app) values(e calc.Entry, args []string) (object []byte, code int, err error) {
	if len(args) == 1 && args[0] == "-" {
		object, err = intake.All(program.Reading(a.ctx, a.in), "the input")
		if errors.Is(err, program.ErrInterrupted) {
			return nil, interrupted, err
		}
		return object, broken, err
	}
	if len(args) == 1 && strings.HasPrefix(strings.TrimSpace(args[0]), "{") {
		return []byte(args[0]), done, nil
	}
	names, cells, err := named(args)
	if err != nil {
		return nil, misused, err
	}
	f, err := newForm(e, names, nil, nil)
	if err == nil {
		object, err = f.json(cells)
	}
	return object, misused, err
}

// named takes values apart that are flags.
func named(args []string) (names, cells []string, err error) {
	for len(args) > 0 {
		name, value, joined := strings.Cut(strings.TrimPrefix(args[0], "-"), "=")
		switch {
		case !strings.HasPrefix(args[0], "-") || name == "":
			return nil, nil, fmt.Errorf("%q: want -NAME VALUE, or one JSON object in quotes", args[0])
		case joined:
			args = args[1:]
		case len(args) == 1:
			return nil, nil, fmt.Errorf("-%s has no value after it", name)
		default:
			value, args = args[1], args[2:]
		}
		names, cells = append(names, strings.TrimPrefix(name, "-")), append(cells, value)
	}
	return names, cells, nil
}
