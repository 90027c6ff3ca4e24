// Loads the program and hands the page over to it; says in words what is wrong where it cannot.
"use strict";

const wait = document.getElementById("wait");
const message = document.getElementById("message");
const progress = document.getElementById("progress");

function fail(text) {
	wait.hidden = false;
	wait.classList.add("failed");
	message.textContent = text;
}

// The server names the program's length here, as its own header may be of the compressed one.
async function fetchProgram() {
	const answer = await fetch("sextant.wasm");
	if (!answer.ok) {
		throw new Error(`the server answered ${answer.status} for sextant.wasm`);
	}
	const length = Number(answer.headers.get("X-Length") || answer.headers.get("Content-Length"));
	let got = 0;
	const counted = answer.body.pipeThrough(new TransformStream({
		transform(chunk, out) {
			got += chunk.length;
			if (length > 0) {
				progress.value = Math.min(got / length, 1);
			}
			out.enqueue(chunk);
		},
	}));
	return new Response(counted, { headers: { "Content-Type": "application/wasm" } });
}

async function start() {
	if (typeof WebAssembly !== "object") {
		fail("This browser has no WebAssembly, which the picture needs. A current Firefox, Chrome, Edge or Safari has it.");
		return;
	}
	if (!document.createElement("canvas").getContext("webgl2")) {
		fail("This browser offers no WebGL 2, which the picture is drawn with. Switch hardware acceleration on in its settings, or try another browser.");
		return;
	}
	const go = new Go();
	go.argv = ["sextant-window", ...linkArguments()];
	let status = 0;
	go.exit = (code) => { status = code; };
	const said = overhear();
	const { instance } = await WebAssembly.instantiateStreaming(await fetchProgram(), go.importObject);
	wait.hidden = true;
	const following = setInterval(follow, 1000);
	keep();
	await go.run(instance);
	clearInterval(following);
	if (status !== 0) {
		throw new Error(said.join("").trim());
	}
	fail("The picture has ended. Reload the page to start it again.");
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

const sayAgain = 4; // seconds, so that a screen reader gets to the end of a sentence
let quiet = sayAgain;

// Tells screen readers what the picture says, and the address what it shows.
function follow() {
	const state = JSON.parse(globalThis.sextantState?.() ?? "{}");
	if (!state.scenario) {
		return;
	}
	const canvas = document.querySelector("canvas");
	canvas?.setAttribute("role", "img");
	canvas?.setAttribute("aria-label", "An inverter and its machine, moving; h shows the keys");
	const now = document.getElementById("now");
	const sentence = state.message || state.sentence || "";
	quiet++;
	if (sentence !== now.textContent && (quiet >= sayAgain || !state.playing)) {
		now.textContent = sentence;
		quiet = 0;
	}
	const link = linkTo(state);
	if (link !== location.hash) {
		history.replaceState(null, "", location.pathname + location.search + link);
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
