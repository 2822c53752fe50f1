package main

import (
	"bytes"
	"html/template"
)

// writeHTML prints the sheet as one page that needs nothing else: black on
// white, with the key on pages of its own.
func (s *sheet) writeHTML(w *bytes.Buffer, paper string) error {
	size := template.CSS("A4")
	if paper == "letter" {
		size = "letter"
	}
	return page.Execute(w, struct {
		*sheet
		Paper template.CSS
	}{s, size})
}

var page = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}</title>
<style>
@page { size: {{.Paper}}; margin: 18mm 16mm; }
:root { color: #000; background: #fff; }
body { font: 11pt/1.4 Georgia, "Times New Roman", serif; max-width: 46em; margin: 0 auto; padding: 1em; }
h1 { font-size: 1.5em; margin: 0 0 .2em; }
h2 { font-size: 1.05em; margin: 0 0 .3em; }
h3 { font-size: .9em; margin: .6em 0 .2em; }
article { margin: 1.4em 0; break-inside: avoid; }
ul, ol { margin: .3em 0; padding-left: 1.6em; }
.person { display: flex; gap: 2em; margin: 1em 0; }
.person span { flex: 1; border-bottom: 1px solid #000; }
.person span + span { flex: 0 0 12em; }
.hazard { border: 1px solid #000; padding: .2em .6em; margin: .3em 0; }
.hazard b { text-transform: uppercase; letter-spacing: .05em; }
.answer { margin-top: .8em; }
.answer::after { content: ""; display: inline-block; width: 14em; border-bottom: 1px solid #000; margin-left: .5em; }
.working { font-family: "DejaVu Sans Mono", Consolas, monospace; font-size: .82em; list-style: none; padding-left: 0; overflow-wrap: anywhere; }
.small { font-size: .85em; }
.key { break-before: page; }
.key article { break-inside: auto; }
@media screen { .key { border-top: 2px solid #000; margin-top: 3em; padding-top: 1em; } }
</style>
</head>
<body>
<main>
<h1>{{.Title}}</h1>
<p>{{.About}}</p>
<p class="person"><span>Name</span><span>Date</span></p>
{{range .Items}}
<article aria-labelledby="e{{.Number}}">
<h2 id="e{{.Number}}">{{.Number}}. {{.Title}}</h2>
{{if .Setting}}<p>{{.Setting}}</p>
{{end}}<ul>
{{range .Given}}<li>{{.}}</li>
{{end}}</ul>
<p><b>Find:</b> {{.Find}}</p>
{{range .Hazards}}<p class="hazard"><b>Take care.</b> {{.}}</p>
{{end}}{{if .Blanks}}<h3>Working</h3>
<ol class="working">
{{range .Blanks}}<li>{{.}}</li>
{{end}}</ol>
{{end}}{{if .Hints}}<h3>Hints</h3>
<ol class="small">
{{range .Hints}}<li>{{.}}</li>
{{end}}</ol>
{{end}}<p class="answer">Answer:</p>
</article>
{{end}}{{if .Defer}}<p class="small">{{.Defer}}</p>
{{end}}</main>
{{if .Key}}<section class="key" aria-labelledby="key">
<h1 id="key">Key: {{.Title}}</h1>
<p>{{.About}}</p>
{{range .Items}}
<article>
<h2>{{.Number}}. {{.Answer}}</h2>
<ol class="working">
{{range .Working}}<li>{{.}}</li>
{{end}}</ol>
{{if .Unneeded}}<p class="small"><b>Not needed:</b> {{.Unneeded}}</p>
{{end}}{{if .Mistakes}}<h3>Likely mistakes</h3>
<ul class="small">
{{range .Mistakes}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{if .Sources}}<p class="small"><b>Sources:</b> {{range $i, $s := .Sources}}{{if $i}}; {{end}}{{$s}}{{end}}</p>
{{end}}</article>
{{end}}</section>
{{end}}</body>
</html>
`))
