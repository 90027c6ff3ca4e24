package edition

import (
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/chromedp/chromedp"

	"sextant/assets"
)

// linkProperty is what must hold of links, tried on random ones from a fixed seed. It returns what did not hold first,
// or "".
const linkProperty = `(async () => {
	let seed = 1;
	const random = (n) => { seed = (seed * 48271) % 2147483647; return seed % n; };
	const pick = (xs) => xs[random(xs.length)];
	const letters = "abcXYZ019-_.=&#%+ /\\\"'<>\u00e4\u03a9\ud83d\ude42\n\0".split("");
	const text = (n) => Array.from({ length: random(n) }, () => pick(letters)).join("");
	const open = async (link) => {
		asked.clear();
		for (const [key, value] of new URLSearchParams(link.slice(1))) {
			asked.set(key, value);
		}
		delete globalThis.sextantHanded;
		return linkArguments();
	};
	for (let k = 0; k < 400; k++) {
		const own = random(2) ? "title = " + JSON.stringify(text(60)) : undefined;
		const state = {
			theme: pick(["dark", "light", "projector", "print"]), focus: pick(["all", "wheel", "bridge-and-wheel"]),
			playing: random(2) === 1, time_s: random(1e6) / 1e7, scenario: own ? text(12) || "x" : pick(["hauler-climb", "trainer-120"]),
			lesson: random(4) ? "" : "six-steps", scene: 1 + random(3),
		};
		const link = await linkTo(state, state.lesson ? undefined : own);
		if (!link.startsWith("#")) {
			return "no link to " + JSON.stringify([state, own]);
		}
		const flags = await open(link);
		const wants = ["--theme=" + state.theme, "--focus=" + state.focus];
		if (state.lesson) {
			wants.push("--lesson=six-steps");
			if (state.scene > 1) {
				wants.push("--scene=" + state.scene);
			}
		} else if (!state.playing) {
			wants.push("--paused=1");
		}
		for (const want of wants) {
			if (!flags.includes(want)) {
				return link + " asks for " + JSON.stringify(flags) + ", without " + want;
			}
		}
		if (!state.lesson && (own ? globalThis.sextantHanded?.text !== own : flags.at(-1) !== state.scenario)) {
			return link + " opens " + JSON.stringify([flags, globalThis.sextantHanded]) + ", not " + JSON.stringify([state, own]);
		}
	}
	for (let k = 0; k < 400; k++) {
		const parts = Array.from({ length: 1 + random(3) }, () => (random(3) ? pick(linkKeys) : text(6)) + "=" + text(20));
		const link = "#" + parts.join("&");
		try {
			const flags = await open(link);
			if (!Array.isArray(flags) || !flags.every((x) => typeof x === "string")) {
				return link + " asks for " + JSON.stringify(flags);
			}
		} catch (e) {
			if (!(e instanceof Error) || !e.message) {
				return link + " fails with " + e;
			}
		}
	}
	// An address that stands for far more text than a scenario has is refused before that is all there.
	const bomb = await packed("#".repeat(64 * longestText));
	let came = 0;
	const whole = DecompressionStream;
	globalThis.DecompressionStream = class {
		constructor(kind) {
			const stream = new whole(kind);
			this.writable = stream.writable;
			this.readable = stream.readable.pipeThrough(new TransformStream({
				transform(part, to) {
					came += part.length;
					to.enqueue(part);
				},
			}));
		}
	};
	try {
		await open("#scenario=long&file=" + bomb);
		return "a scenario of 64 MB is opened";
	} catch (e) {
		if (!e.message.includes("megabyte") || came < longestText || came > 4 * longestText) {
			return "of 64 MB " + came + " bytes were read; " + e;
		}
	}
	return "";
})()`

// A link to a state opens that state, whatever it holds; what is no link is refused with a word.
func TestRandomLinks(t *testing.T) {
	script, err := assets.Site.ReadFile("site/link.js")
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/link.js" {
			w.Header().Set("Content-Type", "text/javascript")
			w.Write(script)
			return
		}
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte("<!doctype html><link rel=icon href=data:,><script src=link.js></script>"))
	}))
	defer server.Close()
	b := openTab(t, 300, 200)
	b.do(chromedp.Navigate(server.URL))
	if wrong := value(b, chromedp.Evaluate[string](linkProperty, chromedp.EvalAwaitPromise)); wrong != "" {
		t.Error(wrong)
	}
	b.content()
}
