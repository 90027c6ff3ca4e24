// What screen readers are told: the part that the keys point at, what lies over the picture to be read, what has just
// been done, and else, from time to time, the sentence above the picture.
"use strict";

const readsPerSecond = 15; // characters, so that a screen reader gets to the end
const sentenceTakes = 4; // seconds at least from one sentence of a picture that plays to the next

let last = { part: "", words: "", message: "" };
let quietUntil = 0; // by performance.now()

function tell(state) {
	const told = {
		part: state.part ?? "",
		words: state.words ?? "",
		message: state.message ?? "",
	};
	const fresh = [
		told.part !== last.part && [told.part, state.part_reads].filter(Boolean).join(": "),
		told.message !== last.message && told.message,
		told.words !== last.words && added(last.words, told.words),
	].filter(Boolean);
	last = told;
	if (fresh.length > 0) {
		say(fresh.join("\n"), 0);
	} else if (performance.now() >= quietUntil || !state.playing && !told.words && !told.part) {
		say(told.message || state.sentence || "", sentenceTakes);
	}
}

// Returns what words say that those before did not: an answer is judged on the page that asked.
function added(before, words) {
	return before && words.startsWith(before) ? words.slice(before.length).trim() : words;
}

function say(text, least) {
	const now = document.getElementById("now");
	if (text !== now.textContent) {
		now.textContent = text;
		quietUntil = performance.now() + 1000 * Math.max(least, text.length / readsPerSecond);
	}
}
