// What the scripts that open a page have in common.
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const axe = fs.readFileSync(require.resolve("axe-core"), "utf8");
const puppeteer = require("puppeteer-core");

// open starts Chromium for what is done with a page in it, and ends it.
exports.open = async (executablePath, use) => {
	const browser = await puppeteer.launch({ executablePath, args: ["--no-sandbox"] });
	try {
		await use(browser);
	} finally {
		await browser.close();
	}
};

// run ends the script with 1 if what it does fails.
exports.run = (main) => main().catch((error) => {
	console.error(error);
	process.exit(1);
});

// look has the accessibility checker look at the page as it stands, in light
// and in dark, and pictures it if there is a folder for that. It returns how often.
exports.look = async (page, name, pictures) => {
	const schemes = ["light", "dark"];
	for (const scheme of schemes) {
		await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: scheme }, { name: "prefers-reduced-motion", value: "reduce" }]);
		await page.evaluate(axe);
		const found = await page.evaluate(async () => {
			const { violations } = await globalThis.axe.run(document, { resultTypes: ["violations"], preload: false, runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] });
			return violations.map((v) => v.id + ": " + v.help + " " + v.nodes.map((n) => n.html + " " + n.failureSummary).join(" | "));
		});
		assert.deepStrictEqual(found, [], name + ", " + scheme);
		if (pictures) await page.screenshot({ path: path.join(pictures, name + "-" + scheme + ".png"), fullPage: true });
	}
	return schemes.length;
};
