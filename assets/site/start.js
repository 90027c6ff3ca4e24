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
	const { instance } = await WebAssembly.instantiateStreaming(await fetchProgram(), go.importObject);
	wait.hidden = true;
	await go.run(instance);
	fail("The picture has ended. Reload the page to start it again.");
}

start().catch((problem) => fail(`The picture could not start: ${problem.message}`));
