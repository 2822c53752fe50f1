package main

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/line"
	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
	"example.com/dough/doughmath/whatif"
	"example.com/dough/examples/internal/intake"
	"example.com/dough/examples/internal/option"
	"example.com/dough/testdata"
)

// flags are the options of a command, each with what it was given.
type flags struct{ given map[string][]string }

// common are the options of every command.
var common = []string{"scenario", "product", "id", "base", "study", "vary", "want", "units", "force?", "file", "plot"}

func readFlags(c command, args []string) (*flags, error) {
	set := flag.NewFlagSet(c.name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	f := &flags{map[string][]string{}}
	for _, n := range append(append([]string{}, common...), c.flags...) {
		if name, isSwitch := strings.CutSuffix(n, "?"); isSwitch {
			set.BoolFunc(name, "", func(v string) error { f.given[name] = []string{v}; return nil })
			continue
		}
		set.Func(n, "", func(v string) error { f.given[n] = append(f.given[n], v); return nil })
	}
	if err := set.Parse(args); err != nil {
		return nil, wrong(misused, "%w: whatif help lists the options", err)
	}
	if set.NArg() > 0 {
		return nil, wrong(misused, "%q is no option: a value with spaces stands in quotes", set.Arg(0))
	}
	for _, name := range []string{"scenario", "product", "id", "base", "study", "units", "file", "to", "combine", "samples", "seed", "first", "count", "workers", "chart"} {
		if len(f.given[name]) > 1 {
			return nil, wrong(misused, "-%s is there twice", name)
		}
	}
	for _, name := range f.given["plot"] {
		if ending := filepath.Ext(name); ending != ".svg" && ending != ".png" {
			return nil, wrong(misused, "-plot is %q: want a name that ends with .svg or .png", name)
		}
	}
	return f, nil
}

// text is the option's value, "" if it was not given.
func (f *flags) text(name string) string {
	if v := f.given[name]; len(v) > 0 {
		return v[len(v)-1]
	}
	return ""
}

// choose is the option's word, or the first one if it was not given.
func (f *flags) choose(name string, words ...string) (string, error) {
	got := f.text(name)
	if got == "" {
		return words[0], nil
	}
	if slices.Contains(words, got) {
		return got, nil
	}
	return "", wrong(misused, "-%s is %q: want %s", name, got, strings.Join(words, " or "))
}

// whole is the option's whole number, or else the one named.
func (f *flags) whole(name string, otherwise int) (int, error) {
	if f.text(name) == "" {
		return otherwise, nil
	}
	n, err := strconv.Atoi(f.text(name))
	if err != nil || n < 0 {
		return 0, wrong(misused, "-%s is %q: want a whole number", name, f.text(name))
	}
	return n, nil
}

// list is the values of an option that holds several.
func (f *flags) list(name string) (out []string) {
	for _, text := range f.given[name] {
		out = append(out, option.List(text)...)
	}
	return out
}

// apart refuses to write over what is read, or two things to one file.
func (f *flags) apart(out any) error {
	reads := []intake.Place{{What: "-study", Name: f.text("study")}, {What: "-scenario", Name: f.text("scenario")}}
	if base := f.text("base"); !strings.HasPrefix(strings.TrimSpace(base), "{") {
		reads = append(reads, intake.Place{What: "-base", Name: base})
	}
	rows := intake.Place{What: "-file", Name: f.text("file")}
	if rows.Name == "" || rows.Name == "-" {
		rows = intake.Place{What: "what is printed", Stream: out}
	}
	writes := []intake.Place{rows}
	for _, name := range f.given["plot"] {
		writes = append(writes, intake.Place{What: "-plot", Name: name})
	}
	if err := intake.Apart(reads, writes); err != nil {
		return &failure{misused, err}
	}
	return nil
}

// subject is what the options say to vary.
func (f *flags) subject() (whatif.Subject, error) {
	if id := f.text("id"); id != "" {
		if f.text("scenario") != "" || f.text("product") != "" {
			return whatif.Subject{}, wrong(misused, "-id is a calculation, -scenario and -product are a plan: want one of them")
		}
		base := []byte(f.text("base"))
		if len(base) == 0 {
			return whatif.Subject{}, wrong(misused, "-id is a calculation: want its input, -base, an object or the name of its file")
		}
		if !strings.HasPrefix(strings.TrimSpace(string(base)), "{") {
			var err error
			if base, err = intake.Read(f.text("base")); err != nil {
				return whatif.Subject{}, wrong(broken, "-base: want an object or the name of its file: %w", err)
			}
		}
		return whatif.ByID(id, base)
	}
	if f.text("base") != "" {
		return whatif.Subject{}, wrong(misused, "-base is the input of a calculation: want its -id")
	}
	day, err := f.day()
	if err != nil {
		return whatif.Subject{}, err
	}
	if len(day.Orders) == 0 {
		return whatif.Subject{}, wrong(misused, "the scenario has no orders")
	}
	product := f.text("product")
	if product == "" {
		return whatif.OfScenario(day), nil
	}
	var names []string
	for _, o := range day.Orders {
		if o.Product.Name == product {
			return whatif.Of(line.Plan{Line: day.Line, Order: o, Shift: day.Shift}), nil
		}
		names = append(names, strconv.Quote(o.Product.Name))
	}
	return whatif.Subject{}, wrong(misused, "-product is %q: want one of %s", product, strings.Join(names, ", "))
}

// day is the scenario, the demo's if none is named.
func (f *flags) day() (line.Scenario, error) {
	data, err := testdata.Scenario("demo.json")
	if name := f.text("scenario"); name != "" {
		data, err = intake.Read(name)
	}
	if err != nil {
		return line.Scenario{}, &failure{broken, err}
	}
	return line.ReadScenario(data)
}

// study is what the options, or the file of a study, say to do.
func (f *flags) study() (s whatif.Study, err error) {
	if name := f.text("study"); name != "" {
		data, err := intake.Read(name)
		if err != nil {
			return s, &failure{broken, err}
		}
		read, err := reckon.Decode[whatif.Study]("study", data)
		if err != nil {
			return s, err
		}
		s = *read
	}
	return s, f.complete(&s)
}

// readQuestion reads a question about a study: what its file says, and the options.
func readQuestion[Q any](f *flags, study func(*Q) *whatif.Study) (q Q, err error) {
	name := f.text("study")
	if name == "" {
		return q, f.complete(study(&q))
	}
	data, err := intake.Read(name)
	if err != nil {
		return q, &failure{broken, err}
	}
	var names map[string]json.RawMessage
	if json.Unmarshal(data, &names) == nil && names["study"] == nil {
		*study(&q), err = f.study() // a study alone
		return q, err
	}
	read, err := reckon.Decode[Q]("study", data)
	if err != nil {
		return q, err
	}
	return *read, f.complete(study(read))
}

// complete puts what the options say to a study. One that names neither a calculation nor a scenario
// varies what they name.
func (f *flags) complete(s *whatif.Study) error {
	var errs []error
	switch named := s.Calculation != "" || s.Scenario != nil || s.Base != nil; {
	case !named:
		var err error
		if s.Subject, err = f.subject(); err != nil {
			return err
		}
	case f.text("id") != "" || f.text("scenario") != "" || f.text("product") != "":
		return wrong(misused, "the study says what it varies: want no -id, -scenario or -product beside it")
	}
	for _, text := range f.given["vary"] {
		factor, err := parseFactor(text)
		errs = append(errs, err)
		s.Vary = append(s.Vary, factor)
	}
	for _, text := range f.list("want") {
		s.Outputs = append(s.Outputs, parseOutput(text))
	}
	if f.text("units") != "" {
		errs = append(errs, unitsOf(f, &s.Units))
	}
	s.Force = s.Force || f.text("force") == "true"
	if len(s.Vary) == 0 {
		errs = append(errs, wrong(misused, `nothing varies: want -vary "PATH=FIRST..LAST in COUNT"`))
	}
	return errors.Join(errs...)
}

func unitsOf(f *flags, units *unit.System) error {
	if err := units.UnmarshalText([]byte(f.text("units"))); err != nil {
		return wrong(misused, "-units: %w", err)
	}
	return nil
}

var outputUnit = regexp.MustCompile(`^(.*\S)\s*\(([^()]+(?:\([^()]*\))?)\)$`)

// parseOutput reads "PATH" and "PATH (UNIT)".
func parseOutput(text string) whatif.Output {
	if m := outputUnit.FindStringSubmatch(text); m != nil {
		return whatif.Output{Path: m[1], Unit: m[2]}
	}
	return whatif.Output{Path: text}
}

// parseFactor reads
//
//	PATH=FIRST..LAST in COUNT    so many values, both ends among them
//	PATH=FIRST..LAST by STEP     steps
//	PATH=FIRST..LAST             drawn from the range
//	PATH=VALUE, VALUE            a list
//	PATH=MEAN ± HALF             a tolerance: drawn evenly within it
//	PATH=MEAN sd SD              a normal distribution
//	PATH                         the range that the input has
//
// A mean that is left out is the value in the base. What the values are is for the study to say.
func parseFactor(text string) (whatif.Factor, error) {
	path, values, ok := cutPath(text)
	f := whatif.Factor{Path: strings.TrimSpace(path)}
	values = strings.TrimSpace(values)
	if f.Path == "" || ok && values == "" {
		return f, wrong(misused, `-vary is %q: want "PATH=FIRST..LAST in COUNT", "PATH=FIRST..LAST by STEP" or "PATH=VALUE, VALUE"`, text)
	}
	if !ok {
		return f, nil
	}
	if mean, half, ok := strings.Cut(strings.ReplaceAll(values, "+-", "±"), "±"); ok {
		f.Distribution = whatif.Distribution{Shape: whatif.Uniform, Mean: strings.TrimSpace(mean), HalfWidth: strings.TrimSpace(half)}
		return f, nil
	}
	if mean, sd, ok := strings.Cut(" "+values, " sd "); ok {
		f.Distribution = whatif.Distribution{Shape: whatif.Normal, Mean: strings.TrimSpace(mean), SD: strings.TrimSpace(sd)}
		return f, nil
	}
	from, to, isRange := strings.Cut(values, "..")
	if !isRange {
		for v := range strings.SplitSeq(values, ",") {
			f.Values = append(f.Values, strings.TrimSpace(v))
		}
		return f, nil
	}
	f.From, f.To = strings.TrimSpace(from), strings.TrimSpace(to)
	if to, step, ok := strings.Cut(f.To, " by "); ok {
		f.To, f.Step = strings.TrimSpace(to), strings.TrimSpace(step)
	} else if i := strings.LastIndex(f.To, " in "); i > 0 {
		if count, err := strconv.Atoi(strings.TrimSpace(f.To[i+4:])); err == nil { // "in 9", not inches
			f.To, f.Count = strings.TrimSpace(f.To[:i]), count
		}
	}
	return f, nil
}

// cutPath cuts at the first = that is not within the name of an item.
func cutPath(text string) (path, rest string, found bool) {
	depth := 0
	for i, r := range text {
		switch {
		case r == '[':
			depth++
		case r == ']':
			depth--
		case r == '=' && depth <= 0:
			return text[:i], text[i+1:], true
		}
	}
	return text, "", false
}
