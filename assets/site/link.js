// What the page's address asks for, and the address of what is shown. The query and the fragment say the same,
// like #scenario=hauler-climb&theme=light&paused=1; the fragment goes first.
"use strict";

const linkKeys = ["scenario", "theme", "focus", "paused", "at"];

const asked = new Map([
	...new URLSearchParams(location.search),
	...new URLSearchParams(location.hash.slice(1)),
]);

// The page waits on the ground of the picture to come.
document.documentElement.dataset.theme = asked.get("theme") ?? "";

// Returns the program's command line; a value that is wrong is the program's to name.
function linkArguments() {
	const flags = [];
	for (const [key, value] of asked) {
		if (!linkKeys.includes(key)) {
			throw new Error(`the address asks for "${key}"; it can ask for ${linkKeys.join(", ")}`);
		}
		if (key !== "scenario") {
			flags.push(`--${key}=${value}`);
		}
	}
	return asked.has("scenario") ? [...flags, "--", asked.get("scenario")] : flags;
}

// Returns the fragment that opens what is shown: the very instant where time stands still. A file that was
// dropped on the page and a lesson have none.
function linkTo(state) {
	if (state.lesson || !/^[a-z0-9-]+$/.test(state.scenario)) {
		return "";
	}
	const link = new URLSearchParams({ scenario: state.scenario, theme: state.theme, focus: state.focus });
	if (!state.playing) {
		link.set("paused", "1");
		link.set("at", `${state.time_s}s`);
	}
	return `#${link}`;
}

addEventListener("hashchange", () => location.reload());
