"use strict";
// The page. All arithmetic, wording and marking is the library's, which
// engine.js holds as WebAssembly; here stands what is shown and when.
(() => {
	const at = (id) => document.getElementById(id);
	const mostExercises = 50; // that a list of pockets can show

	// The set, and for each exercise what became of it.
	let sheet = [];
	let current = -1; // in the sheet

	// ask asks the library. What it refuses is thrown.
	function ask(kind, request) {
		const { reply, refused } = JSON.parse(doughDesk(kind, JSON.stringify(request)));
		if (refused) throw { refused };
		return reply;
	}

	function element(name, text, className) {
		const e = document.createElement(name);
		if (text) e.textContent = text;
		if (className) e.className = className;
		return e;
	}

	function say(where, kind, ...lines) {
		where.className = "says " + kind;
		where.replaceChildren(...lines.map((l) => (typeof l === "string" ? element("p", l) : l)));
	}

	function plural(n, one, many) { return n + " " + (n === 1 ? one : many); }

	/* ---- the set ---- */

	const form = at("set");

	// Whole numbers stay text until they are known to be some: nothing is guessed.
	function whole(name, most) {
		const text = form.elements[name].value.trim();
		if (!/^[0-9]{1,16}$/.test(text) || Number(text) > most) {
			throw { refused: [{ field: name, value: text, want: "a whole number from " + (name === "size" ? 1 : 0) + " to " + most }] };
		}
		return Number(text);
	}

	function chosen() {
		const spec = { size: whole("size", mostExercises), seed: whole("seed", Number.MAX_SAFE_INTEGER), units: form.elements.units.value };
		const calculations = form.elements.ask.value.split(",").map((s) => s.trim()).filter(Boolean);
		if (calculations.length) spec.calculations = calculations;
		else if (form.elements.station.value) spec.station = form.elements.station.value;
		const steps = /^([0-9]{1,3})\.\.([0-9]{1,3})$/.exec(form.elements.steps.value);
		if (steps) [spec.steps_low, spec.steps_high] = [Number(steps[1]), Number(steps[2])];
		for (const name of ["distractors", "conversions"]) spec[name] = Number(form.elements[name].value);
		return spec;
	}

	// The address holds the choices, so that a set can be handed on.
	const names = ["station", "steps", "units", "size", "seed", "distractors", "conversions", "ask"];
	const usual = { station: "", steps: "", units: "metric", size: "10", seed: "1", distractors: "0", conversions: "0", ask: "" };

	function toAddress() {
		const parts = names.filter((n) => form.elements[n].value !== usual[n] || n === "seed");
		return "#" + parts.map((n) => n + "=" + encodeURIComponent(form.elements[n].value)).join("&");
	}

	function fromAddress() {
		const given = new URLSearchParams(location.hash.slice(1, 2000));
		for (const name of names) {
			const value = given.get(name) ?? usual[name];
			const field = form.elements[name];
			if (field.options && ![...field.options].some((o) => o.value === value)) {
				field.append(new Option(value, value)); // refused by name when it means nothing
			}
			field.value = value;
		}
		if (form.elements.units.value === "") form.elements.units.value = "metric";
		form.querySelector("details").open = ["distractors", "conversions", "ask"].some((n) => form.elements[n].value !== usual[n]);
	}

	// onPaper is how the same set is printed: the worksheet's options go by the names of the fields.
	function onPaper() {
		const parts = names.filter((n) => form.elements[n].value !== usual[n] || ["seed", "size", "units"].includes(n));
		return "worksheet " + parts.filter((n) => n !== "station" || !form.elements.ask.value.trim()).map((n) => "-" + n + " " + form.elements[n].value.replaceAll(" ", "")).join(" ");
	}

	const fieldWords = { size: "Exercises", seed: "Set number", station: "Topic", steps_low: "Steps", steps_high: "Steps", distractors: "Values that are not needed", conversions: "Values in another unit", units: "Units" };

	function refuse(where, error) {
		if (!error.refused) throw error;
		for (const e of form.querySelectorAll("[aria-invalid]")) e.removeAttribute("aria-invalid");
		const lines = error.refused.map((r) => {
			const input = r.field && at(r.field.replace(/^calculations.*/, "ask").replace(/^steps_.*/, "steps"));
			if (input) input.setAttribute("aria-invalid", "true");
			const name = fieldWords[r.field] || (r.field || "").replace(/^calculations.*/, "Calculations");
			return name ? name + ": " + (r.value || "nothing") + " is not accepted; it takes " + r.want + "." : [r.unknown && "No " + r.unknown + " for " + r.wanted, r.advice].filter(Boolean).join(": ") + ".";
		});
		say(where, "bad", ...lines);
		const first = form.querySelector("[aria-invalid]");
		if (first) {
			if (first.closest("details")) first.closest("details").open = true;
			first.focus();
		}
	}

	function start(focus) {
		const says = at("set-says");
		let spec;
		try {
			spec = chosen();
		} catch (error) {
			refuse(says, error);
			return;
		}
		say(says, "", "The set is being made …");
		// A frame later, so that the line above is seen: all topics in so many steps take a while.
		requestAnimationFrame(() => setTimeout(() => {
			try {
				sheet = ask("set", spec).map((exercise) => ({ exercise, answer: "", blanks: [], tries: 0, hints: 0, points: 0, shown: false, mark: null, stepwise: false }));
			} catch (error) {
				refuse(says, error);
				return;
			}
			for (const e of form.querySelectorAll("[aria-invalid]")) e.removeAttribute("aria-invalid");
			const address = toAddress();
			if (location.hash !== address) history.replaceState(null, "", address);
			const topic = spec.calculations ? spec.calculations.join(", ") : form.elements.station.selectedOptions[0].textContent;
			const steps = form.elements.steps.value ? form.elements.steps.selectedOptions[0].textContent + " steps, " : "";
			at("sheet-name").textContent = "Set " + spec.seed + ": " + topic + ", " + steps + (spec.units === "us" ? "US" : "metric") + " units.";
			at("paper").textContent = onPaper();
			say(says, "", "Set " + spec.seed + " is ready: " + plural(sheet.length, "exercise", "exercises") + ".");
			at("sheet").hidden = false;
			current = -1; // what is still shown belongs to no exercise of this set
			makePockets();
			open(0, focus);
			performance.mark("practice-ready");
			document.documentElement.dataset.ready = "true";
		}));
	}

	form.addEventListener("submit", (event) => {
		event.preventDefault();
		start(true);
	});
	at("another").addEventListener("click", () => {
		form.elements.seed.value = String(1 + crypto.getRandomValues(new Uint32Array(1))[0] % 9999);
		start(true);
	});
	window.addEventListener("hashchange", () => {
		if (location.hash.includes("=")) {
			fromAddress();
			start(true);
		}
	});

	/* ---- the exercises ---- */

	function state(item) {
		if (item.shown && item.points < 1) return ["shown", "working shown"];
		if (item.points >= 0.9) return ["done", "right"];
		if (item.points > 0) return ["part", "partly right"];
		return item.tries ? ["tried", "not right yet"] : ["open", "not answered"];
	}

	function makePockets() {
		at("pockets").replaceChildren(...sheet.map((item, i) => {
			const button = element("button", String(i + 1));
			button.type = "button";
			button.addEventListener("click", () => open(i, true));
			const li = element("li");
			li.append(button);
			return li;
		}));
	}

	function showTally() {
		[...at("pockets").querySelectorAll("button")].forEach((button, i) => {
			const [name, words] = state(sheet[i]);
			button.dataset.state = name;
			button.setAttribute("aria-label", "Exercise " + (i + 1) + ", " + words);
			if (i === current) button.setAttribute("aria-current", "true");
			else button.removeAttribute("aria-current");
		});
		const points = sheet.reduce((sum, item) => sum + item.points, 0);
		const done = sheet.filter((item) => item.points >= 0.9).length;
		const tried = sheet.filter((item) => item.tries > 0).length;
		at("tally").textContent = tried ? done + " of " + sheet.length + " right, " + plural(Number(points.toFixed(2)), "point", "points") + "." : "";
		at("results").replaceChildren(...sheet.map((item) => {
			const li = element("li", item.exercise.question + " ");
			const [, words] = state(item);
			li.append(element("span", [words, plural(Number(item.points.toFixed(2)), "point", "points"), plural(item.tries, "try", "tries"),
				item.hints && plural(item.hints, "hint", "hints"), item.answer && "last answer " + item.answer].filter(Boolean).join(", ") + ".", "note"));
			return li;
		}));
	}

	function open(i, focus) {
		keep();
		current = i;
		const item = sheet[i];
		const e = item.exercise;
		at("question").textContent = i + 1 + ". " + e.question;
		document.title = "Exercise " + (i + 1) + " of " + sheet.length + " – Dough practice";
		at("setting").textContent = e.setting || "";
		at("given").replaceChildren(...e.given.map((line) => element("li", line)));
		at("find").textContent = e.find;
		at("care").hidden = !e.hazards;
		at("hazards").replaceChildren(...(e.hazards || []).map((line) => element("li", line)));
		at("defer").textContent = e.defer || "";
		at("answer").value = item.answer;
		at("answer-help").textContent = e.unit ? "A number and its unit: " + e.unit + ", or any other of the same kind." : "A plain number.";
		at("previous").disabled = i === 0;
		at("next").disabled = i === sheet.length - 1;
		at("hints").replaceChildren();
		for (let n = 0; n < item.hints; n++) addHint(item, n);
		showHintButton(item);
		showBlanks(item);
		showMark(item);
		at("working").hidden = true;
		at("show").disabled = false;
		if (item.shown) showWorking(item);
		showTally();
		if (focus) at("question").focus();
	}

	// keep keeps what was typed when another exercise is opened.
	function keep() {
		const item = sheet[current];
		if (!item) return;
		item.answer = at("answer").value.trim();
		item.blanks = blankInputs().map((input) => input.value.trim());
	}

	const key = (item) => (item.key ??= ask("key", item.exercise.spec));
	const blanksOf = (item) => key(item).working.filter((step) => step.blank);

	/* ---- answers ---- */

	const verdicts = {
		"right": ["good", "✓ Right"],
		"too-many-digits": ["good", "✓ Right, with too many digits"],
		"too-few-digits": ["", "≈ Too coarse"],
		"nearly": ["", "≈ Nearly"],
		"mistake": ["bad", "✗ A likely mistake"],
		"followed": ["", "↳ Follows"],
		"wrong": ["bad", "✗ Not right"],
		"wrong-quantity": ["bad", "? Another quantity"],
		"ambiguous": ["", "? It may mean two things"],
		"unread": ["", "? Not understood"],
		"empty": ["", "? No answer"],
	};

	at("work").addEventListener("submit", (event) => {
		event.preventDefault();
		keep();
		const item = sheet[current];
		const blanks = item.stepwise && item.blanks.some(Boolean) ? item.blanks : [];
		try {
			item.mark = ask("mark", { spec: item.exercise.spec, answer: item.answer, blanks });
		} catch (error) {
			say(at("mark"), "bad", error.refused ? error.refused.map((r) => r.advice || r.want).join("; ") : String(error));
			return;
		}
		if (!["empty", "ambiguous", "unread"].includes(item.mark.answer.verdict) || blanks.length) item.tries++;
		if (!item.shown) item.points = Math.max(item.points, item.mark.score);
		showMark(item);
		showTally();
	});

	function showMark(item) {
		const where = at("mark");
		where.replaceChildren();
		where.className = "says";
		at("answer").removeAttribute("aria-invalid");
		for (const input of blankInputs()) showStep(input, null);
		if (!item.mark) return;
		const { answer, steps } = item.mark;
		const [kind, words] = verdicts[answer.verdict];
		const line = element("p");
		line.append(element("b", words));
		if (answer.read) line.append(" – read as " + answer.read);
		const told = [line];
		if (answer.says && answer.says !== "Right.") told.push(element("p", answer.says));
		if (steps.length) {
			const credited = steps.filter((s) => ["right", "followed", "too-many-digits"].includes(s.verdict)).length;
			told.push(element("p", credited + " of " + plural(steps.length, "step", "steps") + " right or following rightly: " + plural(Number(item.mark.score.toFixed(2)), "point", "points") + "."));
			blankInputs().forEach((input, i) => showStep(input, steps[i]));
		}
		if (item.shown) told.push(element("p", "The working has been shown, so this no longer counts."));
		say(where, kind, ...told);
		if (kind === "bad") at("answer").setAttribute("aria-invalid", "true");
	}

	/* ---- hints, steps, working ---- */

	// relation shows "T = B − S = 64 − 44 = 20 °C"; its formulae come typeset
	// from the library, everything else as text.
	function relation(step, withNumbers) {
		const span = element("span", "", "relation");
		span.insertAdjacentHTML("beforeend", step.relation || "");
		if (withNumbers) {
			if (step.numbers) span.insertAdjacentHTML("beforeend", " = " + step.numbers);
			span.append((step.relation ? " = " : "") + step.value);
		}
		return span;
	}

	// scrollable lets the keyboard reach what is wider than the page.
	function scrollable(within) {
		for (const span of within.querySelectorAll(".relation")) {
			if (span.scrollWidth > span.clientWidth) span.tabIndex = 0;
		}
	}

	function addHint(item, n) {
		const steps = blanksOf(item);
		const li = element("li");
		li.append(n + 1 < steps.length ? steps[n].words : steps[n].words + " – the answer", relation(steps[n], false));
		if (steps[n].note) li.append(element("span", steps[n].note, "note"));
		at("hints").append(li);
		scrollable(at("hints"));
	}

	function showHintButton(item) {
		const total = blanksOf(item).length;
		at("hint").disabled = item.hints >= total;
		at("hint").textContent = total ? "Hint (" + item.hints + " of " + total + ")" : "No hints here";
		at("stepwise").disabled = !total;
	}

	at("hint").addEventListener("click", () => {
		const item = sheet[current];
		addHint(item, item.hints++);
		showHintButton(item);
		showTally();
		if (at("hint").disabled) at("answer").focus();
	});

	const blankInputs = () => [...at("blank-list").querySelectorAll("input")];

	function showBlanks(item) {
		at("blanks").hidden = !item.stepwise;
		at("stepwise").setAttribute("aria-expanded", String(item.stepwise));
		at("blank-list").replaceChildren();
		if (!item.stepwise) return;
		const last = blanksOf(item).at(-1);
		let i = -1;
		at("blank-list").append(...key(item).working.filter((step) => step.blank || step.copy).map((step) => {
			const li = element("li");
			const shown = relation(step, false);
			if (step.copy || step === last) {
				if (step === last) shown.append(" = your answer");
				li.append(step.words, shown);
				return li;
			}
			i++;
			const label = element("label", step.words);
			label.htmlFor = "blank" + i;
			const input = element("input");
			Object.assign(input, { id: "blank" + i, autocomplete: "off", spellcheck: false, value: item.blanks[i] || "" });
			input.setAttribute("aria-describedby", "blank-relation" + i + " blank-says" + i);
			shown.id = "blank-relation" + i;
			shown.append(" = ");
			const says = element("span", "", "note");
			says.id = "blank-says" + i;
			li.append(label, shown, input, step.unit ? " " + step.unit : "", says);
			return li;
		}));
		scrollable(at("blank-list"));
	}

	function showStep(input, mark) {
		const says = at(input.id.replace("blank", "blank-says"));
		const silent = !mark || mark.verdict === "empty";
		const words = silent ? "" : verdicts[mark.verdict][1];
		says.textContent = silent || !mark.says ? words : words.slice(0, 2) + mark.says;
	}

	at("stepwise").addEventListener("click", () => {
		const item = sheet[current];
		keep();
		item.stepwise = !item.stepwise;
		showBlanks(item);
		showMark(item);
		if (item.stepwise) (blankInputs()[0] || at("answer")).focus();
	});

	function showWorking(item) {
		const { working, answer, unneeded, mistakes, sources } = key(item);
		at("lines").replaceChildren(...working.map((step) => {
			const li = element("li", step.words);
			li.append(relation(step, true));
			if (step.note) li.append(element("span", step.note, "note"));
			return li;
		}));
		const more = [element("p", "Answer: " + answer)];
		if (unneeded) more.push(element("p", "Not needed: " + unneeded.join(", ") + "."));
		if (mistakes) {
			const list = element("ul");
			list.append(...mistakes.map((m) => element("li", m)));
			more.push(element("p", "Likely mistakes"), list);
		}
		if (sources) more.push(element("p", "Sources: " + sources.join("; ") + ".", "help"));
		at("more").replaceChildren(...more);
		at("working").hidden = false;
		at("show").disabled = true;
		scrollable(at("lines"));
	}

	at("show").addEventListener("click", () => {
		const item = sheet[current];
		keep();
		item.shown = true;
		showWorking(item);
		showTally();
		at("working-heading").focus();
	});

	at("previous").addEventListener("click", () => open(current - 1, true));
	at("next").addEventListener("click", () => open(current + 1, true));

	/* ---- the program ---- */

	async function unpack() {
		const packed = Uint8Array.from(atob(doughEngine), (c) => c.charCodeAt(0));
		doughEngine = null; // it is large
		const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
		const go = new Go();
		const { instance } = await WebAssembly.instantiateStreaming(new Response(plain, { headers: { "Content-Type": "application/wasm" } }), go.importObject);
		go.run(instance); // runs as long as the page is open
	}

	for (const button of document.querySelectorAll("button")) button.disabled = true;
	unpack().then(() => {
		performance.mark("practice-unpacked");
		for (const button of document.querySelectorAll("button")) button.disabled = false;
		for (const topic of ask("topics", {})) {
			if (topic.station) at("station").append(new Option(topic.words, topic.station));
		}
		fromAddress();
		start(false);
	}).catch((error) => {
		say(at("set-says"), "bad", "The program could not be started: " + (error.message || error) + ". The page needs a browser of 2023 or later.");
	});
})();
