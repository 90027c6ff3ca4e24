// What the page's address asks for, and the address of what is shown. The query and the fragment say the same,
// like #scenario=hauler-climb&theme=light&paused=1; the fragment goes first. A scenario that is not built in is in the
// address itself, as "file": its text compressed by gzip, in base64 for URLs.
"use strict";

const linkKeys = ["scenario", "file", "lesson", "scene", "theme", "focus", "paused", "at"];
const longestLink = 8000; // characters; longer ones get lost in mail
const longestText = 1e6; // bytes

const asked = new Map([
	...new URLSearchParams(location.search),
	...new URLSearchParams(location.hash.slice(1)),
]);

// The page waits on the ground of the picture to come.
document.documentElement.dataset.theme = asked.get("theme") ?? "";

// Returns the program's command line; a value that is wrong is the program's to name.
async function linkArguments() {
	const flags = [];
	for (const [key, value] of asked) {
		if (!linkKeys.includes(key)) {
			throw new Error(`the address asks for "${key}"; it can ask for ${linkKeys.join(", ")}`);
		}
		if (key !== "scenario" && key !== "file") {
			flags.push(`--${key}=${value}`);
		}
	}
	// Who wants less motion starts the picture by hand.
	if (!asked.has("paused") && matchMedia("(prefers-reduced-motion: reduce)").matches) {
		flags.push("--paused");
	}
	const name = asked.get("scenario");
	if (asked.has("file")) {
		const base = (name ?? "linked").replace(/\.toml$/, "");
		globalThis.sextantHanded = { name: `${base}.toml`, text: await unpacked(asked.get("file")) };
		return flags;
	}
	return name === undefined ? flags : [...flags, "--", name];
}

// Returns the fragment that opens what is shown: the very instant, where time stands still in a built-in scenario. own
// is the scenario's text where it is not one of those. A lesson that is a file has no address.
async function linkTo(state, own) {
	const link = new URLSearchParams({ theme: state.theme, focus: state.focus });
	const builtIn = (name) => /^[a-z0-9-]+$/.test(name);
	if (state.lesson) {
		link.set("lesson", state.lesson);
		if (state.scene > 1) {
			link.set("scene", state.scene);
		}
		return builtIn(state.lesson) ? `#${link}` : "";
	}
	link.set("scenario", state.scenario);
	if (own) {
		if (typeof CompressionStream !== "function") {
			return "";
		}
		link.set("file", await packed(own));
	} else if (!builtIn(state.scenario)) {
		return "";
	}
	if (!state.playing) {
		link.set("paused", "1");
		if (!own) {
			link.set("at", `${state.time_s}s`);
		}
	}
	const text = `#${link}`;
	return text.length > longestLink ? "" : text;
}

// Returns what a stream makes of bytes, as long as that is not more than most: a few bytes can stand for very many.
async function through(bytes, stream, most = Infinity) {
	const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
	const parts = [];
	for (let length = 0; ;) {
		const { done, value } = await reader.read();
		if (done) {
			return new Uint8Array(await new Blob(parts).arrayBuffer());
		}
		length += value.length;
		if (length > most) {
			reader.cancel().catch(() => {});
			throw new Error("too long");
		}
		parts.push(value);
	}
}

async function packed(text) {
	const bytes = await through(new TextEncoder().encode(text), new CompressionStream("gzip"));
	return btoa(String.fromCharCode(...bytes)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

async function unpacked(text) {
	try {
		const bytes = Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
		return new TextDecoder().decode(await through(bytes, new DecompressionStream("gzip"), longestText));
	} catch {
		throw new Error("the scenario in it is damaged, or longer than a megabyte; was it copied whole?");
	}
}

addEventListener("hashchange", () => location.reload());
