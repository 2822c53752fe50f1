// Opens the course in Chromium, has axe-core look at it wide, narrow and for
// print: page.cjs PAGE BROWSER [PICTURES]
"use strict";
const assert = require("node:assert");
const { pathToFileURL } = require("node:url");
const browsing = require("../../internal/browser/look.cjs");

const [file, chromium, pictures] = process.argv.slice(2);
browsing.run(() => browsing.open(chromium, async (browser) => {
	const page = await browser.newPage();
	const requests = [], complaints = [];
	page.on("request", (r) => requests.push(r.url()));
	page.on("console", (m) => complaints.push(m.text()));
	await page.setViewport({ width: 900, height: 1000 });
	await page.goto(pathToFileURL(file).href);
	let looked = await browsing.look(page, "course", pictures);

	// The first stop of the Tab key leads past the contents.
	await page.keyboard.press("Tab");
	assert.strictEqual(await page.evaluate(() => document.activeElement.className), "skip");
	await page.keyboard.press("Enter");
	assert.ok(await page.evaluate(() => Math.abs(document.getElementById("lesson-1").getBoundingClientRect().top) < 5));

	// Every relation is drawn.
	const flat = await page.$$eval("math", (all) => all.filter((m) => m.getBoundingClientRect().height < 8 || m.getBoundingClientRect().width < 4).length);
	assert.strictEqual(flat, 0);

	// Nothing runs out of the page at four times its size.
	await page.setViewport({ width: 320, height: 640 });
	assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= 320);
	looked += await browsing.look(page, "course-narrow", pictures);

	await page.emulateMediaType("print");
	assert.strictEqual(await page.$eval("#lesson-2", (e) => getComputedStyle(e).breakBefore), "page");
	assert.deepStrictEqual(requests, [pathToFileURL(file).href]);
	assert.deepStrictEqual(complaints, []);
	console.log("one request; axe-core looked " + looked + " times and found nothing");
}));
