// Loads the program and hands the page over to it; says in words what is wrong where it cannot.
"use strict";

const wait = document.getElementById("wait");
const message = document.getElementById("message");
const progress = document.getElementById("progress");
const amount = document.getElementById("amount");
const again = document.getElementById("again");

let retry = () => location.reload();
again.addEventListener("click", () => retry());

function fail(text) {
	wait.hidden = false;
	wait.classList.add("failed");
	message.textContent = text;
	again.hidden = false;
	document.querySelector("canvas")?.remove();
}

// Says that what the address asks for cannot be had, and offers to do without.
function refuse(text) {
	again.textContent = "Open it without";
	retry = () => location.assign(location.pathname);
	fail(`The picture that the address asks for cannot be shown: ${text}`);
}

// The program would load the page anew by itself, again and again where the graphics stay away.
addEventListener("webglcontextlost", (event) => {
	event.stopImmediatePropagation();
	fail("The picture cannot go on: the browser has taken the graphics processor from it, as after a reset, or when many pages draw. The address still holds what was shown; trying again opens that.");
}, { capture: true });

async function start() {
	if (typeof WebAssembly !== "object") {
		fail("This browser has no WebAssembly, which the picture needs. A current Firefox, Chrome, Edge or Safari has it.");
		return;
	}
	if (!document.createElement("canvas").getContext("webgl2")) {
		fail("This browser offers no WebGL 2, which the picture is drawn with. Switch hardware acceleration on in its settings, or try another browser.");
		return;
	}
	let wishes = [];
	try {
		wishes = await linkArguments();
	} catch (problem) {
		refuse(problem.message);
		return;
	}
	const go = new Go();
	go.argv = ["sextant-window", ...wishes];
	let status = 0;
	go.exit = (code) => { status = code; };
	const said = overhear();
	const { instance } = await load(go.importObject);
	keep();
	const running = go.run(instance);
	const following = setInterval(follow, 1000);
	running.finally(() => clearInterval(following));
	await shown(running);
	wait.hidden = true;
	await running;
	if (wait.classList.contains("failed")) {
		return; // without graphics it was bound to end
	}
	const words = said.join("").trim();
	const broken = words.match(/^(panic|fatal error): .*/m); // what follows is for who mends it, in the console
	if (broken) {
		fail(`The picture cannot go on: it broke off (${broken[0]})`);
		return;
	}
	if (status !== 0 && asked.size > 0) {
		refuse(words);
		return;
	}
	if (status !== 0) {
		throw new Error(words);
	}
	again.textContent = "Start again";
	fail("The picture has ended.");
}

async function load(imports) {
	const shows = loading(message, progress, amount, again);
	try {
		return await WebAssembly.instantiateStreaming(await fetchProgram(shows.told), imports);
	} catch (problem) {
		if (problem instanceof TypeError) { // so the network's failures are called
			throw new Error("it did not come whole. Is the network there, and the server running?", { cause: problem });
		}
		throw problem;
	} finally {
		shows.over();
	}
}

// Waits for the first picture, or for the program's end.
function shown(running) {
	return Promise.race([running, new Promise((done) => {
		const look = () => {
			if (globalThis.sextantState?.() !== undefined && JSON.parse(globalThis.sextantState()).frames > 0) {
				done();
			} else {
				setTimeout(look, 50);
			}
		};
		look();
	})]);
}

// Returns what the program writes to its standard error, as it comes.
function overhear() {
	const texts = [];
	const decoder = new TextDecoder();
	const write = globalThis.fs.writeSync;
	globalThis.fs.writeSync = (file, bytes) => {
		if (file === 2) {
			texts.push(decoder.decode(bytes, { stream: true }));
		}
		return write(file, bytes);
	};
	return texts;
}

// Tells the address what the picture shows, and screen readers what it says.
async function follow() {
	const state = JSON.parse(globalThis.sextantState?.() ?? "{}");
	if (!state.scenario) {
		return;
	}
	const canvas = document.querySelector("canvas");
	canvas?.setAttribute("role", "application"); // screen readers leave the keys to it
	canvas?.setAttribute("aria-describedby", "now");
	canvas?.setAttribute("aria-label", "An inverter and its machine, moving. H tells the keys, B the lessons; Escape and then Tab leaves.");
	tell(state);
	const link = await linkTo(state, globalThis.sextantOwn?.());
	if (link !== location.hash) {
		try {
			history.replaceState(null, "", location.pathname + location.search + link);
		} catch {
			// a page in a frame may be forbidden to
		}
	}
}

// Keeps the site for when there is no server; where the browser will not, it works with one.
async function keep() {
	try {
		await navigator.serviceWorker.register("worker.js");
		await navigator.serviceWorker.ready;
		document.documentElement.dataset.kept = "yes";
	} catch {
		document.documentElement.dataset.kept = "no";
	}
}

start().catch((problem) => fail(`The picture could not start: ${problem.message}`));
