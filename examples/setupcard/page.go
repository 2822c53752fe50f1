package main

import "html/template"

// page is all that is printed: black on white, nothing from outside. Text has 11 points or more but for the
// last line of a page, so that it is read from where the machine is worked.
var page = template.Must(template.New("page").Parse(`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{{.Title}}: set-up cards</title>
<style>
@page { size: {{.Paper}}; margin: 15mm 10mm 14mm 14mm;
  @bottom-left { content: "{{.Defer}}"; font: 8pt Arial, sans-serif; width: 85%; text-align: left; }
  @bottom-right { content: counter(page) " / " counter(pages); font: 10pt Arial, sans-serif; } }
{{range .Sheets}}@page {{.ID}} { @top-left { content: "{{.Head}}"; font: bold 11pt Arial, sans-serif; width: 90%; text-align: left; } }
#{{.ID}} { page: {{.ID}}; }
{{end}}:root { color: #000; background: #fff; }
* { box-sizing: border-box; }
body { font: 11pt/1.28 "DejaVu Sans", Verdana, Arial, sans-serif; margin: 0; overflow-wrap: break-word; }
h1 { font-size: 20pt; margin: 0 0 3mm; line-height: 1.15; }
h2 { font-size: 22pt; margin: 0 0 2mm; line-height: 1.15; }
h3 { font-size: 14pt; margin: 2.5mm 0 1.2mm; border-bottom: .7mm solid #000; break-after: avoid; }
h4 { font-size: 12.5pt; margin: 0; min-width: 0; }
p, ul { margin: 0 0 2mm; }
svg { display: block; width: 100%; height: auto; max-height: 225mm; font-family: "DejaVu Sans", Verdana, Arial, sans-serif; }
section { break-before: page; }
.first { break-before: auto; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .6mm 3mm; margin: 0 0 2mm; }
dt { font-weight: bold; }
dd { margin: 0; }
.care { border: .5mm solid #000; border-left-width: 3mm; padding: 1mm 2.5mm; margin: 0 0 2mm; list-style: none; break-inside: avoid; }
.care li + li { margin-top: 1mm; }
.look { border-left: 1.2mm solid #000; padding-left: 2.5mm; }
.mend { border: 1.2mm solid #000; padding: 1.5mm 3mm; margin: 0 0 2mm; break-inside: avoid; }
.controls { list-style: none; margin: 0; padding: 0; display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 1.8mm 3mm; }
.controls li { border: .3mm solid #000; padding: 1.2mm 2mm; break-inside: avoid; }
.controls .care { border-left-width: 3mm; margin: 0; }
.care p { margin: 0 0 1mm; }
.wide { grid-column: 1 / -1; break-after: avoid; }
h1, h2, h3, p, li, dd, caption, td:last-child, .name h4, .at { overflow-wrap: anywhere; }
tbody th { overflow-wrap: anywhere; min-width: 40mm; }
.batches tbody th { min-width: 0; }
.batches tbody { break-inside: auto; }
.batches [scope=rowgroup] { border-top: .6mm solid #000; }
.batches tr:has([scope=rowgroup]) { break-after: avoid; }
tbody th.letter { min-width: 0; width: 8mm; font-size: 14pt; }
.name h4 { flex: 1 1 0; }
.name { display: flex; justify-content: space-between; align-items: baseline; gap: 3mm; }
.at { font-size: 19pt; font-weight: bold; line-height: 1.1; text-align: right; flex: none; max-width: 65%; }
.at small { font-size: 11pt; }
.quantity { white-space: nowrap; }
.number { margin-right: 2.5mm; }
.foot { display: flex; justify-content: space-between; gap: 3mm; }
.side { display: grid; grid-template-columns: 50fr 37fr; gap: 3mm; margin-top: .8mm; }
.note { margin: .5mm 0 0; }
.lock { font-weight: bold; }
label { white-space: nowrap; }
input[type=text] { font: inherit; width: 20mm; border: 0; border-bottom: .4mm solid #000; border-radius: 0; background: none; padding: 0; }
.run { display: grid; grid-template-columns: repeat(3, 1fr); gap: 2.5mm 5mm; margin: 2.5mm 0; break-inside: avoid; }
.run label { display: flex; gap: 2mm; }
.run input[type=text] { flex: 1; min-width: 0; }
.drawing { break-inside: avoid; margin: 2mm 0; }
table { border-collapse: collapse; width: 100%; }
caption { text-align: left; font-weight: bold; margin: 2.5mm 0 1mm; break-after: avoid; }
.whole { break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: .8mm 1.5mm; border-bottom: .2mm solid #000; }
thead th { border-bottom: .6mm solid #000; }
tr { break-inside: avoid; }
.right { text-align: right; white-space: nowrap; }
input[type=checkbox] { appearance: none; width: 6.5mm; height: 6.5mm; border: .5mm solid #000; border-radius: 0; margin: 0; display: block; }
input[type=checkbox]:checked { background: #000; }
.step-care { border-left: 2mm solid #000; padding-left: 2mm; margin: .8mm 0 0; }
.alone { margin-top: 2mm; }
.small { font-weight: normal; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media screen { body { padding: 5mm; max-width: 200mm; margin: 0 auto; } section { border-top: 1mm solid #000; margin-top: 12mm; padding-top: 4mm; } }
@media print { footer { display: none; } body { padding-right: .5mm; } }
</style>
</head>
<body>
<header>
<h1>{{.Title}}</h1>
{{range .Notes}}<p>{{.}}</p>
{{end}}</header>
<main>
{{with .Day}}<section class="first" aria-labelledby="day">
<h2 id="day">The day</h2>
<dl>
{{range .Facts}}<dt>{{.What}}</dt><dd>{{.Says}}</dd>
{{end}}</dl>
{{range .LookAt}}<p class="look">{{.}}</p>
{{end}}<div class="drawing">{{.Drawing}}</div>
<table>
<caption>Order by order</caption>
<thead><tr><th scope="col">Order</th><th scope="col">Mixing</th><th scope="col">Divider</th><th scope="col">Into the oven</th><th scope="col">Ready</th>{{if $.Day.Due}}<th scope="col">Due</th>{{end}}</tr></thead>
<tbody>
{{range .Runs}}<tr><th scope="row">{{.Number}} {{.Name}}<div class="small">{{with .Called}}({{.}})<br>{{end}}{{.Pieces}} pieces{{if .Wait}}<br>waits {{.Wait}}{{end}}</div></th>
<td>{{.Mixing}}</td><td>{{.Divider}}</td><td>{{.Oven}}</td><td>{{.Ready}}</td>{{if $.Day.Due}}<td>{{.Due}}{{if .Late}}<br><b>{{.Late}}</b>{{end}}</td>{{end}}</tr>
{{end}}</tbody>
</table>
</section>
{{template "clock" .Clock}}{{end}}{{range .Sheets}}<section id="{{.ID}}" aria-labelledby="{{.ID}}-h">
{{if .Card}}{{template "card" .}}{{else}}{{template "change" .}}{{end}}</section>
{{end}}</main>
<footer><p>{{.Defer}}</p></footer>
</body>
</html>
` + clockText + cardText + changeText))

// clockText is the day by the clock.
const clockText = `{{define "clock"}}<section aria-labelledby="clock">
<h2 id="clock">The day by the clock</h2>
<dl>
{{range .Facts}}<dt>{{.What}}</dt><dd>{{.Says}}</dd>
{{end}}</dl>
{{range .Findings}}<p class="look"><b>{{.Where}}:</b> {{.Says}}. <b>To mend it:</b> {{.Mend}}.</p>
{{end}}{{with .Care}}<ul class="care" aria-label="Take care">
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{with .Ahead}}<table>
<caption>Started ahead, in the mixing room</caption>
<thead><tr><th scope="col">Done</th><th scope="col">Start</th><th scope="col">What</th><th scope="col">How much</th><th scope="col">For</th></tr></thead>
<tbody>
{{range .}}<tr><td><input type="checkbox" aria-label="{{.What}} at {{.Start}} done"></td><td>{{.Start}}</td><td>{{.What}}</td><td>{{.Make}}</td><td>{{.For}}</td></tr>
{{end}}</tbody>
</table>
{{end}}<table class="batches">
<caption>Batch by batch</caption>
<thead><tr><th scope="col" class="right">Batch</th><th scope="col">Into the mixer</th><th scope="col">Tipped</th><th scope="col">Scaled</th><th scope="col">Into the oven</th></tr></thead>
{{range .Runs}}<tbody>
<tr><th scope="rowgroup" colspan="5">{{.Number}} {{.Name}}<div class="small">at once at most: {{.Most}} pieces</div></th></tr>
{{range .Batches}}<tr><th scope="row" class="right">{{.Number}}</th><td>{{.Mix}}</td><td>{{.Tip}}</td><td>{{.Scaled}}</td><td>{{.InOven}}</td></tr>
{{end}}</tbody>
{{end}}</table>
</section>
{{end}}`

// cardText is one product at the line.
const cardText = `{{define "card"}}{{with .Card}}<h2 id="{{$.ID}}-h">{{.Number}}&ensp;{{.Name}}</h2>
<p>{{.Pieces}}</p>
{{if .Refused}}<div class="mend"><h3>Not as asked</h3><p>{{.Refused}}</p>{{with .Conflict}}
<p><b>{{.Says}}</b> What would do, each alone and the others as they are:</p>
<ul>
{{range .Needs}}<li>{{.}}</li>
{{end}}</ul>{{end}}</div>
{{else}}{{range .MendFirst}}<p class="mend"><b>Mend first:</b> {{.}}</p>
{{end}}<dl>
{{range .Facts}}<dt>{{.What}}</dt><dd>{{.Says}}</dd>
{{end}}</dl>
<div class="run"><label>Day <input type="text" autocomplete="off"></label><label>By <input type="text" autocomplete="off"></label><label>Good pieces <input type="text" autocomplete="off"></label><label>Mean weight <input type="text" autocomplete="off"></label><label>Dough at <input type="text" autocomplete="off"></label></div>
<ul class="care" aria-label="Take care">
{{range .Care}}<li>{{.}}</li>
{{end}}</ul>
{{with .Known}}<ul class="known" aria-label="Known good">
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{range .Machines}}<h3>{{.Name}}</h3>
<ul class="controls">
{{if .Care}}<li class="care{{if not .Beside}} wide{{end}}">{{range .Care}}<p>{{.}}</p>{{end}}</li>
{{end}}{{range .Controls}}<li>
<div class="name"><h4><span class="number">{{.Number}}</span>{{.Name}}</h4><span class="at{{if .Scale}} quantity{{end}}">{{.At}}{{with .Unit}} <small>{{.}}</small>{{end}}</span></div>
{{if .Scale}}{{.Drawing}}
<div class="foot"><span{{if .Lock}} class="lock"{{end}}>{{.When}}</span><label>ran at <input type="text" autocomplete="off"></label></div>
{{else}}<div class="side"><div>{{.Drawing}}</div><div><p class="note{{if .Lock}} lock{{end}}">{{.When}}</p><label>ran at <input type="text" autocomplete="off"></label></div></div>
{{end}}{{range .Notes}}<p class="note">{{.}}</p>
{{end}}</li>
{{end}}</ul>
{{end}}{{with .LeftAlone}}<p class="alone"><b>Leave as they are:</b> {{.}}</p>
{{end}}{{with .Window}}<h3>How fast it may run</h3>
{{range .Drawings}}<div class="drawing">{{.}}</div>
{{end}}<p class="note">Each bar is the speeds that work, with what limits them at its ends.{{if .Waits}} White is where the divider waits for dough.{{end}} {{.More}}</p>
<table class="whole">
<caption>The best of all settings that work</caption>
<tbody>
{{range .Best}}<tr><th scope="row" class="letter">{{.Letter}}</th><td><b>{{.For}}</b>{{if .Here}}, as on this card{{end}}: {{.Says}}</td></tr>
{{end}}</tbody>
</table>
{{with .Gap}}<p class="alone">{{.}}</p>
{{end}}{{with .Buys}}<p class="alone"><b>What a little more room would buy</b></p>
<ul>
{{range .}}<li>{{.}}</li>
{{end}}</ul>
{{end}}{{range .Closed}}<p class="note">{{.}}</p>
{{end}}{{end}}{{end}}{{end}}{{end}}`

// changeText is one changeover.
const changeText = `{{define "change"}}{{with .Change}}<h2 id="{{$.ID}}-h">Change over to {{.Next}}&ensp;{{.NextName}}</h2>
<p>from {{.Before}} {{.BeforeName}}</p>
{{range .MendFirst}}<p class="mend"><b>Mend first:</b> {{.}}</p>
{{end}}<dl>
{{range .Facts}}<dt>{{.What}}</dt><dd>{{.Says}}</dd>
{{end}}</dl>
{{range .LookAt}}<p class="look">{{.}}</p>
{{end}}<ul class="care" aria-label="Take care">
{{range .Care}}<li>{{.}}</li>
{{end}}</ul>
<div class="drawing"><h3>Who does what</h3>
{{.Drawing}}
<p class="note">The numbers are those of the steps below. Black may not be late.</p></div>
<table>
<caption>Steps, in the order of their starts; minutes and seconds from the last stroke</caption>
<thead><tr><th scope="col">Done</th><th scope="col" class="right">Step</th><th scope="col" class="right">Start</th><th scope="col">Who</th><th scope="col">What to do</th></tr></thead>
<tbody>
{{range .Steps}}<tr><td><input type="checkbox" aria-label="step {{.Number}} done"></td><td class="right">{{.Number}}{{if .Critical}} <b aria-hidden="true">!</b><span class="unseen"> may not be late</span>{{end}}</td><td class="right">{{.Start}}</td><td>{{.Who}}</td>
<td>{{with .Where}}<b>{{.}}:</b> {{end}}{{.Do}}{{range .Care}}<p class="step-care">{{.}}</p>{{end}}</td></tr>
{{end}}</tbody>
</table>
<p class="note">! may not be late</p>
<div class="run"><label>Day <input type="text" autocomplete="off"></label><label>By <input type="text" autocomplete="off"></label><label>Took <input type="text" autocomplete="off"></label></div>
{{end}}{{end}}`
