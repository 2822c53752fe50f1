// Opens the page in a fresh browser and prints after how many milliseconds its
// first exercise can be read: ready.cjs FOLDER BROWSER
"use strict";
const path = require("node:path");
const { pathToFileURL } = require("node:url");
const browsing = require("../../internal/browser/look.cjs");

const [folder, chromium] = process.argv.slice(2);
browsing.run(() => browsing.open(chromium, async (browser) => {
	const page = await browser.newPage();
	await page.goto(pathToFileURL(path.join(folder, "index.html")).href);
	await page.waitForSelector("html[data-ready]");
	console.log(await page.evaluate(() => performance.getEntriesByName("practice-ready")[0].startTime));
}));
