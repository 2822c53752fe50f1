package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strconv"

	"example.com/dough/doughmath/exercise"
)

// The names of the open format for exercises, QTI 3.0 of 1EdTech, from its
// published examples (github.com/1EdTech/qti-examples).
const (
	qtiSpace       = "http://www.imsglobal.org/xsd/imsqtiasi_v3p0"
	qtiSchema      = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqti_asiv3p0_v1p0.xsd"
	packageSpace   = "http://www.imsglobal.org/xsd/qti/qtiv3p0/imscp_v1p1"
	packageSchema  = "https://purl.imsglobal.org/spec/qti/v3p0/schema/xsd/imsqtiv3p0_imscpv1p2_v1p0.xsd"
	instanceSpace  = "http://www.w3.org/2001/XMLSchema-instance"
	sheetLanguage  = "en-GB"
	manifestFile   = "imsmanifest.xml"
	testFile       = "test.xml"
	itemType       = "imsqti_item_xmlv3p0"
	testType       = "imsqti_test_xmlv3p0"
	numericPattern = `[\-+]?[0-9]*\.?[0-9]*` // what may be typed, while it is typed
	onlyNumber     = "Write a number with a decimal point and without its unit."
	entryLength    = "12"
)

// writeQTI writes the sheet as a package: a manifest, a test, and an item for
// each exercise. The same sheet makes the same bytes.
func (s *sheet) writeQTI(w *bytes.Buffer) error {
	z := zip.NewWriter(w)
	add := func(name string, content []byte) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate}) // without the time of day
		if err == nil {
			_, err = f.Write(content)
		}
		return err
	}
	if err := add(manifestFile, s.manifest().document()); err != nil {
		return err
	}
	if err := add(testFile, s.test().document()); err != nil {
		return err
	}
	for i := range s.Items {
		if err := add(s.itemFile(i), s.qtiItem(i).document()); err != nil {
			return err
		}
	}
	return z.Close()
}

// itemName is a name that no other item of any sheet has.
func (s *sheet) itemName(i int) string {
	return fmt.Sprintf("sheet-%s-%d-e%03d-%s", s.Units, s.Seed, s.Items[i].Number, s.Items[i].exercise.Spec.Calculation)
}

func (s *sheet) itemFile(i int) string { return "items/" + s.itemName(i) + ".xml" }

func (s *sheet) testName() string { return fmt.Sprintf("sheet-%s-%d", s.Units, s.Seed) }

func (s *sheet) manifest() *element {
	test := tag("resource", "identifier", s.testName(), "type", testType, "href", testFile).in(tag("file", "href", testFile))
	resources := tag("resources").in(test)
	for i := range s.Items {
		name, file := s.itemName(i), s.itemFile(i)
		test.in(tag("dependency", "identifierref", name))
		resources.in(tag("resource", "identifier", name, "type", itemType, "href", file).in(tag("file", "href", file)))
	}
	return tag("manifest", "xmlns", packageSpace, "xmlns:xsi", instanceSpace, "xsi:schemaLocation", packageSpace+" "+packageSchema, "identifier", s.testName()+"-package").in(
		tag("metadata").in(tag("schema").say("QTI Package"), tag("schemaversion").say("3.0.0")),
		tag("organizations"), resources,
	)
}

func (s *sheet) test() *element {
	section := tag("qti-assessment-section", "identifier", "exercises", "title", s.Title, "visible", "true")
	for i := range s.Items {
		section.in(tag("qti-assessment-item-ref", "identifier", s.itemName(i), "href", s.itemFile(i)))
	}
	return tag("qti-assessment-test", "xmlns", qtiSpace, "xmlns:xsi", instanceSpace, "xsi:schemaLocation", qtiSpace+" "+qtiSchema,
		"identifier", s.testName(), "title", s.Title, "xml:lang", sheetLanguage).in(
		declareOutcome("SCORE", "float"),
		tag("qti-test-part", "identifier", "sheet", "navigation-mode", "nonlinear", "submission-mode", "individual").in(
			tag("qti-item-session-control", "max-attempts", "0", "show-feedback", "true"),
			section,
		),
		tag("qti-outcome-processing").in(setOutcome("SCORE", tag("qti-sum").in(tag("qti-test-variables", "variable-identifier", "SCORE")))),
	)
}

// qtiItem is one exercise: the number that is asked, and the numbers on the
// way to it, each in an entry of its own.
func (s *sheet) qtiItem(i int) *element {
	it := &s.Items[i]
	m := newMarking(it)
	item := tag("qti-assessment-item", "xmlns", qtiSpace, "xmlns:xsi", instanceSpace, "xsi:schemaLocation", qtiSpace+" "+qtiSchema,
		"identifier", s.itemName(i), "title", it.Title, "adaptive", "false", "time-dependent", "false", "xml:lang", sheetLanguage)
	for n := range it.key.Blanks {
		if b := &it.key.Blanks[n]; n < m.last {
			item.in(declareResponse(stepResponse(n), b.Number))
		}
	}
	item.in(declareResponse(answerResponse, it.key.Value))
	return item.in(m.outcomes()...).in(s.body(it, m), m.processing())
}

// body is what the student sees, and the key where it is wanted.
func (s *sheet) body(it *item, m *marking) *element {
	given := tag("ul")
	for _, line := range it.Given {
		given.in(tag("li").say(line))
	}
	body := tag("qti-item-body").in(tag("h1").say(it.Title), said("p", it.Setting), given, titled("Find:", it.Find))
	for _, h := range it.Hazards {
		body.in(titled("Take care.", h))
	}
	if len(it.Hazards) > 0 {
		body.in(said("p", s.Defer))
	}
	if len(it.Hints) > 0 {
		hints := tag("ol")
		for _, h := range it.Hints {
			hints.in(tag("li").say(h))
		}
		body.in(tag("h2").say("Hints"), hints)
	}
	body.in(m.entries()...)
	if s.Key {
		body.in(it.qtiKey())
	}
	return body
}

// qtiKey is the working, which a platform shows to those who mark.
func (it *item) qtiKey() *element {
	working := tag("ol")
	for _, line := range it.Working {
		working.in(tag("li").say(line))
	}
	content := tag("qti-content-body").in(titled("Key:", it.Answer), working)
	if it.Unneeded != "" {
		content.in(titled("Not needed:", it.Unneeded))
	}
	for _, source := range it.Sources {
		content.in(titled("Source:", source))
	}
	return tag("qti-rubric-block", "view", "scorer", "use", "scoring").in(content)
}

// said is an element with the text, or nil if there is none.
func said(name, text string) *element {
	if text == "" {
		return nil
	}
	return tag(name).say(text)
}

// titled is a paragraph that starts with a word in bold.
func titled(title, text string) *element {
	return tag("p").in(tag("strong").say(title).then(" " + text))
}

const answerResponse = "RESPONSE"

func stepResponse(n int) string { return "STEP" + strconv.Itoa(n+1) }

func declareResponse(name string, right float64) *element {
	return tag("qti-response-declaration", "identifier", name, "cardinality", "single", "base-type", "float").in(
		tag("qti-correct-response").in(tag("qti-value").say(decimal(right))),
	)
}

func declareOutcome(name, kind string) *element {
	out := tag("qti-outcome-declaration", "identifier", name, "cardinality", "single", "base-type", kind)
	if kind == "float" {
		out.in(tag("qti-default-value").in(tag("qti-value").say("0")))
	}
	return out
}

// entry is where a number is typed, with its unit behind it.
func entry(response, label, unit string) *element {
	return tag("qti-text-entry-interaction", "response-identifier", response, "expected-length", entryLength, "pattern-mask", numericPattern,
		"data-patternmask-message", onlyNumber, "aria-label", label).then(" " + unit + " ")
}

// feedback is what is told once the outcome has the value.
func feedback(kind, outcome, value, says string) *element {
	out := tag(kind, "outcome-identifier", outcome, "identifier", value, "show-hide", "show")
	if kind == "qti-feedback-inline" {
		return out.say(says).then(" ")
	}
	return out.in(tag("qti-content-body").in(tag("p").say(says)))
}

// marked says of a verdict or a mistake under which name it is told.
func marked(m exercise.Mark) string {
	if m.Mistake != "" {
		return "mistake-" + m.Mistake
	}
	return string(m.Verdict)
}
