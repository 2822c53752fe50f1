// Uses the page in Chromium as a student does, from a disk and by keyboard, and
// looks at it with axe-core: page.cjs FOLDER WANT.json [PICTURES]
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const browsing = require("../../internal/browser/look.cjs");

const [folder, wanted, pictures] = process.argv.slice(2);
const want = JSON.parse(fs.readFileSync(wanted, "utf8"));
const page0 = pathToFileURL(path.join(folder, "index.html")).href;
let looked = 0;

browsing.run(() => browsing.open(want.browser, async (browser) => {
	const page = await browser.newPage();
	page.setDefaultTimeout(60000);
	const requests = [], complaints = [];
	page.on("request", (r) => requests.push(r.url()));
	page.on("console", (m) => complaints.push(m.text()));
	page.on("pageerror", (e) => complaints.push(String(e)));
	await page.setViewport({ width: 900, height: 1000 });
	await page.goto(page0 + want.address);
	await page.waitForSelector("html[data-ready]");
	const marks = await page.evaluate(() => performance.getEntriesByType("mark").map((m) => m.name + " " + Math.round(m.startTime) + " ms"));
	console.log(marks.join(", ") + " after the page was asked for");

	await byKeyboard(page);
	await questions(page);
	await mistakes(page);
	await steps(page);
	await working(page);
	await refused(page);
	await narrow(page);
	await settings(page);
	await notStarted(browser);

	// Everything came from the folder, and nothing was blocked or went wrong.
	for (const url of requests) assert.ok(url.startsWith(pathToFileURL(folder).href + "/") , url);
	assert.deepStrictEqual(complaints, []);
	console.log(requests.length + " requests, all to the folder; axe-core looked " + looked + " times and found nothing");
}));

const text = (page, selector) => page.$eval(selector, (e) => e.innerText.trim());
const open = (page, i) => page.click("#pockets li:nth-child(" + (i + 1) + ") button");

async function answer(page, words) {
	await page.$eval("#answer", (e) => { e.value = ""; });
	await page.type("#answer", words);
	await page.keyboard.press("Enter");
	return text(page, "#mark");
}

const look = async (page, name) => { looked += await browsing.look(page, name, pictures); };

// The set in the address is the set that the library makes.
async function questions(page) {
	assert.strictEqual(await text(page, "#paper"), want.paper);
	assert.strictEqual(await page.$$eval("#pockets button", (all) => all.length), want.questions.length);
	for (const [i, q] of want.questions.entries()) {
		await open(page, i);
		assert.strictEqual(await text(page, "#question"), i + 1 + ". " + q.question);
		assert.deepStrictEqual(await page.$$eval("#given li", (all) => all.map((e) => e.textContent)), q.given);
		assert.strictEqual(await page.$eval("#care", (e) => !e.hidden), Boolean(q.hazards));
	}
	await look(page, "question");
}

// Without a mouse: every stop of the Tab key is visible, and an answer is typed, checked and told.
async function byKeyboard(page) {
	const stops = [];
	for (let i = 0; i < 60; i++) {
		await page.keyboard.press("Tab");
		const stop = await page.evaluate(() => {
			const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
			return { name: e.id || e.textContent.slice(0, 20), seen: s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2, inside: r.width > 0 && r.right > 0 && r.bottom > 0 && r.top < innerHeight };
		});
		assert.ok(stop.seen && stop.inside, "the focus cannot be seen at " + stop.name);
		stops.push(stop.name);
		if (stop.name === "answer") break;
	}
	for (const name of ["station", "seed", "another", "answer"]) assert.ok(stops.includes(name), name + " is not reached: " + stops);
	await page.keyboard.type(want.right[0]);
	await page.keyboard.press("Enter");
	assert.match(await text(page, "#mark"), /Right/);
	assert.strictEqual(await page.$eval("#mark", (e) => e.getAttribute("role")), "status");
	assert.match(await text(page, "#tally"), /^1 of 10 right, 1 point\.$/);
	assert.match(await page.$eval("#pockets button", (e) => e.getAttribute("aria-label")), /^Exercise 1, right$/);
	// On to the next: the focus goes to its question.
	for (let i = 0; i < 10 && (await page.evaluate(() => document.activeElement.id)) !== "next"; i++) await page.keyboard.press("Tab");
	await page.keyboard.press("Enter");
	assert.strictEqual(await page.evaluate(() => document.activeElement.id), "question");
	assert.match(await text(page, "#question"), /^2\. /);
	console.log("by keyboard: " + stops.length + " stops from the top to the answer, each of them visible");
}

// What is wrong on purpose is told its mistake; what is right is right.
async function mistakes(page) {
	for (const { exercise, answer: wrong, says } of want.mistakes) {
		await open(page, exercise);
		const told = await answer(page, wrong);
		assert.ok(told.includes(says), wrong + ": " + told);
	}
	await look(page, "mistake");
	for (const [i, right] of want.right.entries()) {
		await open(page, i);
		assert.match(await answer(page, right), /✓ Right/);
	}
	assert.match(await text(page, "#tally"), /^10 of 10 right, 10 points\.$/);
	assert.match(await answer(page, "about five"), /Not understood/);
	assert.match(await answer(page, "1 parsec"), /\?/);
	assert.match(await text(page, "#tally"), /^10 of 10 right/); // what was right stays so
	console.log(want.mistakes.length + " wrong answers were told their mistake, " + want.right.length + " right ones were right");
}

// Hints and blanks, in an exercise of several steps; what was typed is kept.
async function steps(page) {
	await page.evaluate(() => { location.hash = "#ask=water-temperature&seed=3&size=2"; });
	await page.waitForFunction(() => document.querySelectorAll("#pockets button").length === 2);
	assert.match(await text(page, "#hint"), /^Hint \(0 of [1-9]/);
	await page.click("#hint");
	assert.match(await text(page, "#hint"), /^Hint \(1 of /);
	assert.strictEqual(await page.$$eval("#hints li math", (all) => all.length > 0), true);
	await page.click("#stepwise");
	assert.strictEqual(await page.evaluate(() => document.activeElement.id), "blank0");
	await page.keyboard.type("999");
	await page.keyboard.press("Enter");
	assert.match(await text(page, "#blank-says0"), /Not right/);
	await look(page, "steps");
	await open(page, 1);
	await open(page, 0);
	assert.strictEqual(await page.$eval("#blank0", (e) => e.value), "999");
	assert.match(await text(page, "#blank-says0"), /Not right/);
}

async function working(page) {
	assert.strictEqual(await text(page, "#paper"), "worksheet -units metric -size 2 -seed 3 -ask water-temperature");
	await open(page, 1);
	await page.click("#show");
	assert.strictEqual(await page.evaluate(() => document.activeElement.id), "working-heading");
	assert.ok((await page.$$("#lines math")).length > 5);
	const right = (await text(page, "#more")).match(/Answer: (.*)/)[1];
	assert.match(await answer(page, right), /no longer counts/);
	assert.match(await page.$eval("#pockets li:nth-child(2) button", (e) => e.getAttribute("aria-label")), /working shown/);
	await page.click("#all summary");
	await look(page, "working");
}

// Everything wrong is named at once, and the set at hand stays.
async function refused(page) {
	for (const [field, value, says] of [["size", "0", /Exercises: 0 is not accepted/], ["size", "ten", /whole number/], ["seed", "1e3", /Set number: 1e3/], ["ask", "curles", /"curls" perhaps/]]) {
		await page.evaluate((field, value) => {
			document.getElementById("set").querySelector("details").open = true;
			document.getElementById(field).dataset.before = document.getElementById(field).value;
			document.getElementById(field).value = value;
		}, field, value);
		await page.click("#set button[type=submit]");
		await page.waitForFunction((source) => new RegExp(source).test(document.getElementById("set-says").innerText), {}, says.source);
		assert.strictEqual(await page.evaluate(() => document.activeElement.id), field);
		assert.strictEqual(await page.$eval("#" + field, (e) => e.getAttribute("aria-invalid")), "true");
		if (field === "ask") await look(page, "refused");
		await page.$eval("#" + field, (e) => { e.value = e.dataset.before; });
	}
	await page.evaluate(() => { location.hash = "#station=oven&seed=1"; });
	await page.waitForFunction(() => /moulder/.test(document.getElementById("set-says").innerText));
	assert.strictEqual((await page.$$("#pockets button")).length, 2);
}

// At four times its size on a small screen, or on a telephone, nothing runs out of the page.
async function narrow(page) {
	await page.setViewport({ width: 320, height: 640 });
	await page.evaluate(() => { location.hash = "#station=moulder&seed=4&size=12"; });
	await page.waitForFunction(() => document.querySelectorAll("#pockets button").length === 12);
	for (let i = 0; i < 12; i++) {
		await open(page, i);
		await page.click("#show");
		await page.click("#stepwise:not(:disabled)").catch(() => {});
		const width = await page.evaluate(() => document.documentElement.scrollWidth);
		assert.ok(width <= 320, "exercise " + (i + 1) + " is " + width + " wide");
		if (i % 4 === 0) await look(page, "narrow" + i);
	}
}

// What a reader has set is followed: motion, colours of the system, larger letters.
async function settings(page) {
	await page.emulateMediaFeatures([{ name: "prefers-reduced-motion", value: "reduce" }]);
	assert.strictEqual(await page.$eval("#pockets button", (e) => getComputedStyle(e).transitionDuration), "0s");
	// Where the system takes the colours away, what became of an exercise is still to be seen.
	const session = await page.createCDPSession();
	await session.send("Emulation.setEmulatedMedia", { features: [{ name: "forced-colors", value: "active" }] });
	await page.waitForFunction(() => matchMedia("(forced-colors: active)").matches);
	assert.match(await page.$eval("#pockets button[data-state=shown]", (e) => getComputedStyle(e, "::after").content), /…/);
	if (pictures) await page.screenshot({ path: path.join(pictures, "forced-colours.png"), fullPage: true });
	await session.send("Emulation.setEmulatedMedia", { features: [] });
	await page.emulateMediaType("print");
	assert.strictEqual(await page.$eval("#set", (e) => getComputedStyle(e).display), "none");
	await page.emulateMediaType(null);
}

// Without the program the page says so.
async function notStarted(browser) {
	const page = await browser.newPage();
	await page.setRequestInterception(true);
	page.on("request", (r) => (r.url().endsWith("engine.js") ? r.abort() : r.continue()));
	await page.goto(page0);
	await page.waitForFunction(() => /could not be started/.test(document.getElementById("set-says").innerText));
	await page.close();
}
