// Fetches the program, and tells how much of it has come.
"use strict";

const silence = 15; // seconds without a byte after which the user is told

// Returns the program as an answer to compile while it comes. It is packed where this browser unpacks and the server
// has it so, and arrives unpacked nevertheless from servers that say it is encoded.
async function fetchProgram(told) {
	let answer = null;
	if (typeof DecompressionStream === "function") {
		answer = await fetch("sextant.wasm.gz");
	}
	if (!answer?.ok) {
		answer = await fetch("sextant.wasm");
	}
	if (!answer.ok) {
		throw new Error(`the server answered ${answer.status} for sextant.wasm`);
	}
	const source = answer.body.getReader();
	let next = await source.read();
	const packed = next.value?.[0] === 0x1f && next.value[1] === 0x8b;
	let got = 0;
	const counted = new ReadableStream({
		async pull(out) {
			if (next.done) {
				told(got, packed, true);
				out.close();
				return;
			}
			got += next.value.length;
			told(got, packed, false);
			out.enqueue(next.value);
			next = await source.read();
		},
	});
	const program = packed ? counted.pipeThrough(new DecompressionStream("gzip")) : counted;
	return new Response(program, { headers: { "Content-Type": "application/wasm" } });
}

// Returns what shows in the page how much has come. It says so when nothing comes for long, too.
function loading(message, progress, amount, again) {
	let patience = 0;
	const late = () => {
		message.textContent = `The server has sent nothing for ${silence} seconds. The picture still loads if it goes on.`;
		again.hidden = false;
	};
	const megabytes = (n) => (n / 1e6).toFixed(1);
	const wait = () => {
		clearTimeout(patience);
		patience = setTimeout(late, silence * 1000);
	};
	wait();
	return {
		told(got, packed, all) {
			if (all) {
				clearTimeout(patience);
				message.textContent = "Starting the picture\u2026";
				amount.textContent = "\u00a0";
				progress.removeAttribute("value");
				return;
			}
			const total = Number(packed ? progress.dataset.packed : progress.dataset.unpacked);
			progress.value = Math.min(got / total, 1);
			amount.textContent = `${megabytes(got)} of ${megabytes(total)} MB`;
			if (!again.hidden) {
				again.hidden = true;
				message.textContent = "Loading the picture\u2026";
			}
			wait();
		},
		over() { clearTimeout(patience); },
	};
}
