package main

import (
	"bytes"
	"html/template"

	"example.com/dough/doughmath/reckon"
	"example.com/dough/examples/internal/mathml"
)

// writeHTML writes the course as one page that needs nothing else.
func writeHTML(course []*chapter) ([]byte, error) {
	var out bytes.Buffer
	err := page.Execute(&out, course)
	return out.Bytes(), err
}

var page = template.Must(template.New("page").Funcs(template.FuncMap{
	"math": func(expression string) template.HTML { return template.HTML(mathml.Text(expression)) }, // escaped by mathml
	"equation": func(r relation) (template.HTML, error) {
		e, err := reckon.ParseExpression(r.Expression)
		if err != nil {
			return "", err
		}
		return template.HTML(mathml.Equation(r.Symbol, e)), nil
	},
	"inNumbers": inNumbers,
	"code":      inCode,
}).Parse(`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="color-scheme" content="light dark">
<title>A course in dough arithmetic</title>
<style>
:root { --ground: #fbfaf6; --ink: #211d16; --soft: #5c5548; --line: #a49a86; --block: #f1ede2; --act: #74430a; --care: #8c2f1b; --focus: #1f4fd1; color-scheme: light; }
@media (prefers-color-scheme: dark) {
	:root { --ground: #191713; --ink: #f0ebe0; --soft: #c2b9a7; --line: #7b725f; --block: #26231c; --act: #f0bd7c; --care: #f0a491; --focus: #9db8ff; color-scheme: dark; }
}
html { font: 106%/1.6 Charter, "Bitstream Charter", "Sitka Text", Cambria, "DejaVu Serif", Georgia, serif; background: var(--ground); color: var(--ink); }
body { max-width: 40rem; margin: 0 auto; padding: 1rem; overflow-wrap: anywhere; }
h1 { font-size: 2rem; line-height: 1.15; margin: 1rem 0 .6rem; }
h2 { font-size: 1.45rem; line-height: 1.25; margin: 0 0 .6rem; }
h3 { font-size: 1.08rem; margin: 1.3rem 0 .3rem; }
p { margin: .6rem 0; }
a { color: var(--act); }
:focus-visible { outline: 3px solid var(--focus); outline-offset: 2px; }
.skip { position: absolute; left: -100vw; }
.skip:focus { position: static; }
article { border-top: 2px solid var(--line); margin-top: 2.6rem; padding-top: 1.4rem; }
nav ol { columns: 16rem; padding-left: 1.8rem; }
nav a { display: inline-block; padding: .15rem 0; }
.relation { background: var(--block); border-radius: .4rem; padding: .5rem .8rem; margin: .6rem 0; }
.scroll { overflow-x: auto; overflow-y: hidden; }
math { font-size: 1.08em; }
.relation math { margin: .5rem 0; width: max-content; }
.where { display: grid; grid-template-columns: max-content 1fr; gap: 0 .9rem; margin: .5rem 0 0; font-size: .94rem; }
.where dd { margin: 0; }
.given, .working { margin: .4rem 0; padding-left: 2em; }
.working li { margin: .3rem 0; }
.working .says, .soft { color: var(--soft); font-size: .92rem; }
.working .says { display: block; }
.answer { font-weight: bold; }
.care { border: 2px solid var(--care); border-radius: .4rem; padding: .2rem .8rem; margin: 1rem 0; font-size: .94rem; }
.care h3 { margin: .4rem 0 0; color: var(--care); }
.care ul { margin: .2rem 0; padding-left: 1.2rem; }
.next { border-left: .35rem solid var(--line); padding-left: .8rem; }
.two { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(17rem, 100%), 1fr)); gap: 0 1.6rem; }
.two h4 { margin: .5rem 0 .1rem; font-size: 1rem; }
@media (max-width: 30rem) { .working math { font-size: .8em; } }
@page { margin: 16mm 15mm; }
@media print {
	:root { --ground: #fff; --ink: #000; --soft: #000; --line: #000; --block: #fff; --act: #000; --care: #000; }
	html { font-size: 9.5pt; line-height: 1.45; }
	body { max-width: none; padding: 0; }
	.skip { display: none; }
	.relation { border: 1px solid #000; }
	article, #keys { break-before: page; margin-top: 0; border-top: 0; }
	.key { break-before: auto; }
	h2, h3, h4 { break-after: avoid; }
	.relation, .care, li { break-inside: avoid; }
	a { text-decoration: none; }
}
</style>
</head>
<body>
<a class="skip" href="#lesson-1">Skip to the first lesson</a>
<header>
<h1>A course in dough arithmetic</h1>
<p>` + about + `</p>
<p class="soft">` + caution + `</p>
</header>
<nav aria-labelledby="contents">
<h2 id="contents">Lessons</h2>
<ol>
{{range .}}<li><a href="#lesson-{{.Number}}">{{.Title}}</a></li>
{{end}}</ol>
<p><a href="#keys">Keys to the exercises</a></p>
</nav>
<main>
{{range .}}
<article id="lesson-{{.Number}}" aria-labelledby="title-{{.Number}}">
<h2 id="title-{{.Number}}">{{.Number}}. {{.Title}}</h2>
<p>{{.Why}}</p>
<h3>The relation</h3>
<div class="relation">
<div class="scroll" tabindex="0" role="group" aria-label="Relation of lesson {{.Number}}">
{{range .Relation}}{{equation .}}
{{end}}</div>
<dl class="where">
{{range .Where}}<dt>{{math .Symbol}}</dt><dd>{{.Words}}{{if .Unit}}, in {{.Unit}}{{end}}</dd>
{{end}}</dl>
</div>
<p>{{.How}}</p>
{{if .Hazards}}<div class="care">
<h3>Take care</h3>
<ul>
{{range .Hazards}}<li>{{.}}</li>
{{end}}</ul>
<p>{{.Defer}}</p>
</div>
{{end}}<h3>Worked example</h3>
{{with .Example}}{{template "task" .}}
{{template "working" .Working}}
<p class="answer">Answer: {{.Answer}}{{if .US}} ({{.US}}){{end}}</p>
{{end}}<h3>Exercise</h3>
<p>{{(index .Exercises 0).Question}}</p>
<div class="two">
{{range .Exercises}}<div>
<h4>{{.Heading}}</h4>
{{template "given" .}}
</div>
{{end}}</div>
<p><a href="#key-{{.Number}}">Key to exercise {{.Number}}</a></p>
<p class="next">{{code .Next}}</p>
<p class="soft">In the reference: <code>{{.ID}}</code>, station {{.Station}}.</p>
</article>
{{end}}
<section id="keys" aria-labelledby="keys-title">
<h2 id="keys-title">Keys to the exercises</h2>
{{range .}}
<article class="key" id="key-{{.Number}}" aria-labelledby="key-title-{{.Number}}">
<h3 id="key-title-{{.Number}}">{{.Number}}. {{.Title}}</h3>
<div class="two">
{{range .Exercises}}<div>
<h4>{{.Heading}}: {{.Answer}}</h4>
{{template "working" .Working}}
{{if .Mistakes}}<p class="soft">Likely mistakes</p>
<ul class="soft">
{{range .Mistakes}}<li>{{.}}</li>
{{end}}</ul>
{{end}}</div>
{{end}}</div>
<p class="soft">{{with (index .Exercises 0).Sources}}Sources: {{range $i, $s := .}}{{if $i}}; {{end}}{{$s}}{{end}}. {{end}}<a href="#lesson-{{.Number}}">Back to lesson {{.Number}}</a></p>
</article>
{{end}}</section>
</main>
</body>
</html>
{{define "given"}}<ul class="given">
{{range .Given}}<li>{{.}}</li>
{{end}}</ul>
<p><b>Find</b> {{.Find}}</p>{{end}}
{{define "task"}}<p>{{.Setting}} {{.Question}}</p>
{{template "given" .}}{{end}}
{{define "working"}}<ol class="working">
{{range .}}<li>{{.ID}}: {{if .Symbol}}{{math .Symbol}} = {{end}}{{if .Expression}}{{math .Expression}} = {{end}}{{with inNumbers .}}{{math .}} = {{end}}{{.Result}}{{if .Note}} <span class="says">{{.Note}}</span>{{end}}</li>
{{end}}</ol>{{end}}`))

// inNumbers is the expression with its numbers, unless that says no more than the line does.
func inNumbers(s reckon.ShownStep) string {
	if s.Numbers == s.Expression || s.Numbers == s.Value {
		return ""
	}
	return s.Numbers
}
