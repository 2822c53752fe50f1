// Runs the program of the page in Node and holds each reply against the one
// that the library gave elsewhere: same.cjs FOLDER ASKED.json
"use strict";
const assert = require("node:assert");
const fs = require("node:fs");
const path = require("node:path");
const vm = require("node:vm");
const zlib = require("node:zlib");

const [folder, asked] = process.argv.slice(2);
for (const name of ["wasm_exec.js", "engine.js"]) vm.runInThisContext(fs.readFileSync(path.join(folder, name), "utf8"), name);

(async () => {
	const go = new Go();
	const { instance } = await WebAssembly.instantiate(zlib.gunzipSync(Buffer.from(doughEngine, "base64")), go.importObject);
	go.run(instance);
	const all = JSON.parse(fs.readFileSync(asked, "utf8"));
	for (const { kind, request, reply } of all) assert.strictEqual(doughDesk(kind, request), reply, kind + " " + request);
	console.log(all.length + " replies are the same");
	process.exit(0); // the program waits for more
})().catch((error) => {
	console.error(error);
	process.exit(1);
});
