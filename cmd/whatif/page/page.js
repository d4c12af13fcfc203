// The page of a plan that can be tried. The saved plan stands in the page already; a worker starts
// the engine behind it. This script sends the engine what is changed, and puts the parts of the
// page that come back in the place of the old ones. It makes no HTML of its own.
"use strict";
(() => {

// One policy: for the address of the worker and for the parts that the engine's templates write.
const own = {createHTML: text => text, createScriptURL: text => text};
const policy = self.trustedTypes ? trustedTypes.createPolicy("glassbrief", own) : own;
const root = document.documentElement;
const byId = id => document.getElementById(id);

// ---- What is changed: the texts of the file by the key of their control.

const state = new Map();

// A fragment has a space as "+", and what would part it by its bytes. The keys of controls are
// escaped already.
const escape = text => encodeURIComponent(text).replace(/%(20|24|2C|2F|3A|3B|40)/g, decodeURIComponent).replace(/ /g, "+");
const plain = text => { try { return decodeURIComponent(text.replace(/\+/g, " ")); } catch { return text; } };

function fragmentOf() {
	const order = new Map(controls().map((c, i) => [c.dataset.key, i]));
	const place = key => order.get(key) ?? order.size;
	return [...state].sort(([a], [b]) => place(a) - place(b)).map(([key, text]) => key + "=" + escape(text)).join("&");
}

// read takes the state from the address, and shows it in the controls.
function read() {
	const fragment = location.hash.slice(1);
	if (fragment && byId(plain(fragment))) { // a link within the page; the state goes back into the address
		write();
		return;
	}
	state.clear();
	for (const pair of fragment.split("&").filter(pair => pair)) {
		const [key, ...text] = pair.split("=");
		const c = controls().find(c => c.dataset.key === key) ?? controls().find(c => plain(c.dataset.key) === plain(key));
		state.set(c ? c.dataset.key : key, plain(text.join("=")));
	}
	controls().forEach(show);
	ask();
}

function write() {
	const fragment = fragmentOf();
	if (fragment !== location.hash.slice(1)) history.replaceState(null, "", fragment ? "#" + fragment : location.pathname + location.search);
}

// ---- Controls. A slider's value is a place among steps, whose figures and words the page brings
// along; so units are worked out by the engine alone. The saved figures are steps too.

const controls = () => [...document.querySelectorAll(".control")];
const partsOf = c => ({range: c.querySelector("input[type=range]"), field: c.querySelector("input[type=text]"), select: c.querySelector("select"), back: c.querySelector(".back"), fault: c.querySelector(".fault")});
// The two ends of one figure: near and far.
const endsOf = c => c.dataset.end ? controls().filter(o => o.dataset.key === c.dataset.key) : [c];

let ladders;
function stepsOf(c) {
	if (c.steps) return c.steps;
	ladders ??= JSON.parse(byId("steps").textContent);
	const saved = endsOf(c).map(e => ({value: +e.dataset.value, text: e.dataset.text, spoken: e.dataset.spoken}));
	const steps = [...saved, ...ladders[c.dataset.steps].map(([value, text, spoken]) => ({value, text, spoken}))];
	steps.sort((a, b) => a.value - b.value);
	return c.steps = steps.filter((s, i) => i === 0 || s.value - steps[i - 1].value > 1e-6 * Math.abs(s.value)); // saved ones come first
}

// A figure alone, with a point or a comma.
const isFigure = text => /^-?\d*[.,]?\d+$/.test(text);

const nearest = (steps, value) => steps.reduce((best, s, i) => Math.abs(s.value - value) < Math.abs(steps[best].value - value) ? i : best, 0);

// put shows a figure in a control; its words are those of the engine, or of a step.
function put(c, figure) {
	const {range, field, select, back} = partsOf(c);
	if (select) {
		select.value = figure.text;
	} else {
		field.value = figure.text;
		c.now = figure;
		c.querySelector(".unit").hidden = !isFigure(figure.text); // other texts have theirs
		field.classList.toggle("long", figure.text.length > 6);
		if (Number.isFinite(figure.value)) range.value = nearest(stepsOf(c), figure.value);
		range.setAttribute("aria-valuetext", figure.spoken);
	}
	const changed = figure.text !== c.dataset.text;
	c.classList.toggle("changed", changed);
	back.hidden = !changed;
	if (range) c.style.setProperty("--was", nearest(stepsOf(c), +c.dataset.value) / Math.max(1, stepsOf(c).length - 1));
}

const nowOf = c => c.now ?? savedOf(c);
const savedOf = c => ({value: +c.dataset.value, text: c.dataset.text, spoken: c.dataset.spoken});

// show puts what the state says into a control, or else what is saved. What no step says is shown
// as it is written; the engine's answer has its figure.
function show(c) {
	complain(c, "");
	const text = state.get(c.dataset.key);
	if (text === undefined) return put(c, savedOf(c));
	const own = c.dataset.end ? (text.split("..")[c.dataset.end] ?? text) : text;
	const bare = own.endsWith(c.dataset.unit) ? own.slice(0, own.length - c.dataset.unit.length).trim() : own;
	const step = partsOf(c).select ? {text: bare} : stepsOf(c).find(s => s.text === bare) ?? {value: parseFloat(bare), text: bare, spoken: own};
	put(c, step);
}

// complain says beside a control what is wrong with it, or else what is unusual.
function complain(c, wrong, unusual = "") {
	const {field, select, fault} = partsOf(c);
	const says = wrong || unusual;
	if (fault.textContent !== says) fault.textContent = says;
	fault.hidden = !says;
	(field ?? select).setAttribute("aria-invalid", String(!!wrong));
}

// written gives the text of a control for the file: a bare number has the unit of the control.
function written(c) {
	const {field, select} = partsOf(c);
	if (select) return select.value;
	const text = field.value.trim();
	return isFigure(text) ? text.replace(",", ".") + c.dataset.unit : text;
}

// edited takes a new figure from a control into the state. An end that passes the other takes it along.
function edited(c) {
	const ends = endsOf(c);
	for (const other of ends) {
		const ahead = c.dataset.end === "0" ? 1 : -1;
		if (other !== c && (nowOf(c).value - nowOf(other).value) * ahead > 0) put(other, nowOf(c));
	}
	for (const e of ends) complain(e, "");
	const key = c.dataset.key;
	if (ends.every(e => (partsOf(e).field ?? partsOf(e).select).value === e.dataset.text)) {
		state.delete(key);
	} else {
		const texts = ends.map(written);
		state.set(key, texts[0] === texts.at(-1) ? texts[0] : texts.join(".."));
	}
	ask();
}

document.addEventListener("input", event => {
	const c = event.target.closest(".control");
	if (!c || event.target.type !== "range") return;
	put(c, stepsOf(c)[event.target.value]);
	edited(c);
});

document.addEventListener("change", event => {
	const c = event.target.closest(".control");
	if (!c) return;
	if (event.target.type === "text") {
		const text = event.target.value.trim();
		put(c, stepsOf(c).find(s => s.text === text) ?? {value: isFigure(text) ? parseFloat(text.replace(",", ".")) : NaN, text, spoken: text});
	} else if (event.target.localName === "select") {
		put(c, {text: event.target.value});
	}
	if (event.target.type !== "range") edited(c); // its input was answered already
	write();
});

const does = {
	// As saved: one figure, with its other end where they would cross.
	back(button) {
		const c = button.closest(".control");
		put(c, savedOf(c));
		edited(c);
		(partsOf(c).range ?? partsOf(c).select).focus(); // the button goes
	},
	// As saved: all. The saved parts stand at once, for the engine may be gone.
	saved() {
		state.clear();
		controls().forEach(show);
		restore();
		ask();
	},
	again: () => ask(),
	json() { worker.postMessage({json: true}); },
	// The clipboard may be refused; the text is selected then, for the reader to copy.
	copy(button) {
		const field = byId(button.dataset.of);
		field.focus();
		field.select();
		const tell = text => { byId("copied").textContent = text; };
		const refused = () => tell("Not copied: the browser refuses. The text is selected; copy it by its keys.");
		if (navigator.clipboard) navigator.clipboard.writeText(field.value).then(() => tell("Copied."), refused);
		else refused();
	},
};
document.addEventListener("click", event => {
	const button = event.target.closest("button[data-do]");
	if (!button) return;
	does[button.dataset.do](button);
	if (button.dataset.do === "back" || button.dataset.do === "saved") write();
});

// ---- The parts of the page.

const savedParts = new Map(); // as they came, from when they are first replaced

const titleOf = details => details.querySelector("summary").textContent.replace(/\d+/, "");
const focusable = place => [...place.querySelectorAll("a[href], summary, [tabindex]")];

// What the reader scrolled, and how far. To ask an element would make the browser lay out the page first.
const scrolls = new WeakMap();
addEventListener("scroll", ({target}) => scrolls.set(target, [target.scrollLeft, target.scrollTop]), true);

// replace changes what stands in some places: each comes with what changes it. What was open, scrolled
// or focused stays so, for which all is changed before anything is scrolled or focused: both lay out.
function replace(changes) {
	const all = changes.filter(([place]) => place).map(([place, change]) => ({
		place, change,
		open: [...place.querySelectorAll("details[open]")].map(titleOf),
		scrolled: [...place.querySelectorAll("[tabindex]")].map(e => scrolls.get(e)),
		focus: focusable(place).indexOf(document.activeElement),
	}));
	for (const {place, change, open} of all) {
		if (!savedParts.has(place.id)) savedParts.set(place.id, place.cloneNode(true));
		change(place);
		for (const d of place.querySelectorAll("details")) d.open = open.includes(titleOf(d));
	}
	for (const {place, scrolled, focus} of all) {
		[...place.querySelectorAll("[tabindex]")].forEach((e, i) => { if (scrolled[i]) [e.scrollLeft, e.scrollTop] = scrolled[i]; });
		if (focus >= 0) focusable(place)[focus]?.focus({preventScroll: true});
	}
}

// restore puts the saved plan back.
function restore() {
	replace([...savedParts].map(([id, part]) => [byId(id), place => place.replaceChildren(...part.cloneNode(true).childNodes)]));
	lines({});
	tell("");
}

// lines shows the change as text to be copied.
function lines(texts) {
	for (const id of ["lines", "patch", "chose"]) {
		const field = byId("as-" + id), text = texts[id] ?? "";
		if (field.value === text) continue;
		field.value = text;
		field.rows = Math.max(1, text.split("\n").length - 1);
		field.closest("div").hidden = !text;
	}
	byId("copied").textContent = "";
	byId("as-json").closest("div").hidden = true; // it was of the answer before
	root.classList.toggle("edited", state.size > 0);
}

let telling, lastEdit = -Infinity;
// tell says in one sentence what came of the edits, once they stop for 400 ms.
function tell(text) {
	clearTimeout(telling);
	telling = setTimeout(() => { if (byId("said").textContent !== text) byId("said").textContent = text; }, Math.max(0, lastEdit + 400 - performance.now()));
}

function draw(reply, newest) {
	if (!reply.answered) {
		// The last answer stays, and what is wrong stands beside its control.
	} else if (!reply.fragment) {
		restore(); // the verb's own words, which say more
	} else {
		place(reply.parts);
		lines(reply);
		tell(reply.status);
	}
	if (newest) figures(reply); // otherwise the controls have gone on
}

const place = parts => replace((parts ?? []).map(part => [byId(part.id), place => { place.innerHTML = policy.createHTML(part.html); }]));

// figures shows in the controls what the engine made of them.
function figures(reply) {
	const faults = reply.faults ?? [], warnings = reply.warnings ?? [], all = controls();
	for (const figure of reply.controls ?? []) {
		const c = all.find(c => c.dataset.key === figure.key && Number(c.dataset.end ?? 0) === figure.end);
		if (c && document.activeElement !== partsOf(c).field) put(c, figure);
	}
	const about = (of, c) => of.filter(f => f.key === c.dataset.key).map(f => f.says).join(" ");
	for (const c of all) complain(c, about(faults, c), about(warnings, c));
	const other = faults.filter(f => !all.some(c => c.dataset.key === f.key)).map(f => f.says).join(" ");
	byId("unknown").textContent = other;
	byId("unknown").hidden = !other;
}

// ---- The engine, in a worker. One question is asked at a time; when its answer is there the newest
// state is asked, so that no answer is older than what stands. An answer begins with what was edited; the
// rest of the page follows when the hand rests.

const pause = 50; // ms without an edit that are a rest
let worker, ready, fed, asked = null, wanted = null, resting, starts = 0, loaded = false, failed = false;

function start() {
	ready = fed = false;
	starts++;
	engineLine("The engine is starting; what you change is answered as soon as it is there.");
	try {
		const address = URL.createObjectURL(new Blob([byId("worker").textContent], {type: "text/javascript"}));
		worker = new Worker(policy.createScriptURL(address));
	} catch (fault) {
		return engineLine("The engine cannot start here: " + fault.message + " The saved plan stands below.");
	}
	worker.onmessage = hear;
	worker.onerror = event => fail(event.message);
	feed();
}

// feed gives the worker the engine and the files, once the page is read to its end.
function feed() {
	if (!loaded || fed || !worker) return;
	fed = true;
	worker.postMessage({engine: byId("engine").textContent, files: byId("files").textContent});
}

function engineLine(text) {
	byId("starting").textContent = text;
	byId("starting").hidden = !text;
}

function ask() {
	lastEdit = performance.now();
	wanted = fragmentOf();
	failed = false;
	byId("trouble").hidden = true;
	send();
}

function send() {
	if (!ready || asked !== null || wanted === null) return;
	clearTimeout(resting);
	asked = wanted;
	wanted = null;
	worker.postMessage({ask: asked});
}

function hear({data}) {
	if (data.panic !== undefined) return fail(data.panic);
	if (data.ready) {
		ready = true;
		engineLine("");
		if (!failed) wanted ??= fragmentOf();
	} else if (data.json !== undefined) {
		byId("as-json").value = data.json;
		byId("as-json").closest("div").hidden = false;
	} else if (data.rest) {
		place(data.rest.parts);
		root.dataset.answered = root.dataset.begun;
	} else {
		draw(data.reply, wanted === null);
		root.dataset.begun = asked;
		asked = null;
		starts = 0;
		if (data.reply.answered && !data.reply.fragment) root.dataset.answered = root.dataset.begun; // the saved plan comes whole
		else resting = setTimeout(() => worker.postMessage({rest: true}), Math.max(0, lastEdit + pause - performance.now()));
	}
	send();
}

// fail says that the engine stopped, shows the saved plan, which a new engine begins with, and starts
// one. The question that the old one stopped at is not asked again by itself.
function fail(text) {
	worker.terminate();
	clearTimeout(resting);
	asked = null;
	restore();
	failed = true;
	byId("why").textContent = text.split("\n")[0];
	byId("trouble").hidden = false;
	if (starts < 3) start();
	else engineLine("The engine does not start in this browser. The saved plan stands below.");
}

addEventListener("hashchange", read);
addEventListener("DOMContentLoaded", () => {
	loaded = true;
	feed();
	if (location.hash.length > 1) read();
	root.dataset.live = "";
});
start();
})();
