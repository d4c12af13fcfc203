package whatif

import (
	"math"
	"slices"
	"strings"
	"testing"

	"glassbrief/cmd/browsertest"
	"glassbrief/lang/langtest"
)

// onThread stands in the place of workers: it runs the engine on the thread of the page, which is the only
// one that a browser makes slower when it is asked to.
const onThread = `<script>
self.Worker = class {
	constructor() {
		const worker = this, scope = new Proxy(self, {
			get: (of, name) => name === "postMessage" ? data => setTimeout(() => worker.onmessage({data})) : of[name],
			set: (of, name, value) => { if (name === "onmessage") worker.take = value; else of[name] = value; return true; },
		});
		new Function("self", document.getElementById("worker").textContent)(scope);
	}
	postMessage(data) { setTimeout(() => this.take({data})); }
	terminate() {}
};
</script>`

// edits makes edits by hand of one slider after another, each when the page stands whole after the one
// before and has nothing left to do, and gives the time of each from the input until what was edited is
// laid out, in milliseconds.
const edits = `(async () => {
	const root = document.documentElement, times = [];
	const changed = name => new Promise(done => new MutationObserver((_, o) => { o.disconnect(); done(); }).observe(root, {attributeFilter: [name]}));
	const ranges = [...document.querySelectorAll(".control[data-key$='.distance'] input, .control[data-key$='.light'] input")].filter(r => r.type == "range" && r.max > 0);
	for (let i = 0; i < 200; i++) {
		const range = ranges[i % ranges.length];
		const begun = changed("data-begun"), answered = changed("data-answered");
		const start = performance.now();
		const was = range.value;
		range.value = Math.round(range.max * (0.2 + 0.6 * ((i * 37) % 100) / 100));
		if (range.value == was) range.stepUp();
		range.dispatchEvent(new Event("input", {bubbles: true}));
		await begun;
		document.body.offsetHeight;
		times.push(performance.now() - start);
		await answered;
		await new Promise(done => requestIdleCallback(done));
	}
	return times;
})()`

// p95 gives what 95 of 100 times are at most.
func p95(times []float64) float64 {
	slices.Sort(times)
	return times[len(times)*95/100]
}

// BenchmarkPage holds how soon the saved plan is seen, and how soon an edit is answered.
func BenchmarkPage(b *testing.B) {
	html := htmlOf(b, sessionOf(b, inputOf(b, "night-ferry.scenario")), nil)
	meta := html[strings.Index(html, `<meta http-equiv`):]
	meta = meta[:strings.Index(meta, "\n")]
	address, threaded := saved(b, html), saved(b, strings.Replace(html, meta, onThread, 1))
	browser := browsertest.Start(b)
	painted, quick, throttled := math.Inf(1), math.Inf(1), math.Inf(1)
	const warm = `new Promise(done => setTimeout(done, 3000))` // as the engine gets in a worker
	round := func() {
		page := try(b, browser, address)
		painted = min(painted, browsertest.Eval[float64](page.Page, `performance.getEntriesByName("first-contentful-paint")[0].startTime`))
		browsertest.Eval[any](page.Page, warm)
		quick = min(quick, p95(browsertest.Eval[[]float64](page.Page, edits)))
		page = try(b, browser, threaded)
		browsertest.Eval[any](page.Page, warm)
		page.Throttle(4)
		throttled = min(throttled, p95(browsertest.Eval[[]float64](page.Page, edits)))
		page.Throttle(1)
	}
	langtest.Hold(b, round,
		langtest.Bound{Metric: "ms-painted", Value: func() float64 { return painted }, AtMost: 600 * langtest.SlackOfCI()},
		langtest.Bound{Metric: "ms-p95", Value: func() float64 { return quick }, AtMost: 50 * langtest.SlackOfCI()},
		langtest.Bound{Metric: "ms-p95-at-4x", Value: func() float64 { return throttled }, AtMost: 200 * langtest.SlackOfCI()},
	)
}
