package testdata

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/doughmath/unit"
)

// Compare holds a calculation's result, or its error, against the case and
// returns a line for everything that does not hold, with whose value it is.
func Compare(c Case, result any, err error) []string {
	var bad []string
	complain := func(format string, args ...any) {
		bad = append(bad, fmt.Sprintf(format, args...)+" ("+c.Cite()+")")
	}
	if fields, refused := c.Want["errors"]; refused {
		compareErrors(fields, err, complain)
		return bad
	}
	if err != nil {
		complain("error: %v", err)
		return bad
	}
	for _, p := range sortedKeys(c.Want) {
		got, ferr := field(result, p)
		if ferr != nil {
			complain("%s: %v", p, ferr)
			continue
		}
		if diff, derr := differs(got, c.Want[p], c.Tol[p]); derr != nil {
			complain("%s: %v", p, derr)
		} else if diff != "" {
			complain("%s: %s", p, diff)
		}
	}
	for _, p := range sortedKeys(c.Printed) {
		got, ferr := field(result, p)
		if ferr != nil {
			complain("%s: %v", p, ferr)
			continue
		}
		if diff, derr := differs(got, c.Printed[p], ""); derr != nil || diff == "" {
			complain("%s: the printed value %s should differ from ours (%v)", p, c.Printed[p], derr)
		}
	}
	return bad
}

func sortedKeys(m map[string]json.RawMessage) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func compareErrors(raw json.RawMessage, err error, complain func(string, ...any)) {
	var want []string
	if e := json.Unmarshal(raw, &want); e != nil {
		complain("errors: %v", e)
		return
	}
	var got []string
	for _, in := range reckon.InputErrors(err) {
		got = append(got, in.Field)
	}
	var none *reckon.NoSolutionError
	if errors.As(err, &none) {
		got = append(got, "no-solution")
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(want, slices.Compact(got)) {
		complain("errors: refused %q, want %q (%v)", got, want, err)
	}
}

// field walks a path such as "parts[1].mass" through JSON names.
func field(result any, path string) (reflect.Value, error) {
	v := reflect.ValueOf(result)
	for step := range strings.SplitSeq(path, ".") {
		name, indices, _ := strings.Cut(step, "[")
		for v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		if v.Kind() != reflect.Struct {
			return v, fmt.Errorf("%s is not in an object", name)
		}
		f, ok := byJSONName(v, name)
		if !ok {
			return v, fmt.Errorf("the result has no %q", name)
		}
		v = f
		for indices != "" {
			text, rest, _ := strings.Cut(indices, "]")
			i, err := strconv.Atoi(text)
			if err != nil || v.Kind() != reflect.Slice && v.Kind() != reflect.Array || i < 0 || i >= v.Len() {
				return v, fmt.Errorf("%s has no item %s", name, text)
			}
			v = v.Index(i)
			indices = strings.TrimPrefix(rest, "[")
		}
	}
	return v, nil
}

func byJSONName(v reflect.Value, name string) (reflect.Value, bool) {
	for i := range v.NumField() {
		tag, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		if tag == name {
			return v.Field(i), true
		}
	}
	return v, false
}

// differs returns a description of the difference, or "" if got is what want says.
func differs(got reflect.Value, want json.RawMessage, tol string) (string, error) {
	switch g := got.Interface().(type) {
	case reckon.Noted: // conditions and cautions
		var words []string
		for _, n := range g.Notes() {
			words = append(words, n.Word)
		}
		return wordsDiffer(words, want)
	case unit.Quantity:
		var text string
		if err := json.Unmarshal(want, &text); err != nil {
			return "", err
		}
		return quantityDiffers(g, text, tol)
	}
	switch got.Kind() {
	case reflect.Int, reflect.Int64:
		return numberDiffers(float64(got.Int()), string(want), tol)
	case reflect.Float64:
		return numberDiffers(got.Float(), string(want), tol)
	}
	var w any
	if err := json.Unmarshal(want, &w); err != nil {
		return "", err
	}
	data, err := json.Marshal(got.Interface())
	if err != nil {
		return "", err
	}
	var g any
	if err := json.Unmarshal(data, &g); err != nil {
		return "", err
	}
	if !reflect.DeepEqual(g, w) {
		return fmt.Sprintf("%s, want %s", data, want), nil
	}
	return "", nil
}

// wordsDiffer wants the whole set: a word too many is as wrong as one that is missing.
func wordsDiffer(got []string, want json.RawMessage) (string, error) {
	var words []string
	if err := json.Unmarshal(want, &words); err != nil {
		return "", err
	}
	slices.Sort(words)
	slices.Sort(got)
	if !slices.Equal(got, words) {
		return fmt.Sprintf("%q, want exactly %q", got, words), nil
	}
	return "", nil
}

func quantityDiffers(got unit.Quantity, want, tol string) (string, error) {
	number, symbol, ok := strings.Cut(want, " ")
	if !ok {
		return "", fmt.Errorf("%q has no unit", want)
	}
	ours, ok := unit.InUnit(got, symbol)
	if !ok {
		return "", fmt.Errorf("%q is not in a unit of %s (compound values: write one unit)", want, unit.Describe(got).Name)
	}
	if tol != "" {
		tolNumber, tolUnit, _ := strings.Cut(tol, " ")
		if tolUnit != symbol {
			return "", fmt.Errorf("tolerance %q is not in %s", tol, symbol)
		}
		tol = tolNumber
	}
	diff, err := numberDiffers(ours, number, tol)
	if diff != "" {
		diff += " " + symbol
	}
	return diff, err
}

// numberDiffers compares with half a unit of the last printed digit, unless
// tol gives another tolerance.
func numberDiffers(ours float64, want, tol string) (string, error) {
	w, err := strconv.ParseFloat(want, 64)
	if err != nil {
		return "", err
	}
	limit := halfLastDigit(want)
	if tol != "" {
		if limit, err = strconv.ParseFloat(tol, 64); err != nil {
			return "", err
		}
	}
	// The last term forgives the rounding of binary arithmetic, no more.
	if math.Abs(ours-w) <= limit+1e-12*math.Abs(w) {
		return "", nil
	}
	return fmt.Sprintf("%v, want %s (tolerance %v)", ours, want, limit), nil
}

func halfLastDigit(s string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(s), "e")
	e, _ := strconv.Atoi(exponent) // an absent exponent is 0
	if _, decimals, ok := strings.Cut(mantissa, "."); ok {
		e -= len(decimals)
	}
	return 0.5 * math.Pow(10, float64(e))
}
