// The picture takes every key, and the wheel; this gives back what the page around it needs.
"use strict";

// Whoever moves by the keyboard sees where the focus is, and gets out of the picture by Escape and then Tab, which
// inside it goes from part to part.
let escaped = false;
addEventListener("keydown", (event) => {
	if (event.key === "Tab" && escaped) {
		event.stopImmediatePropagation();
	}
	if (event.key !== "Shift") {
		escaped = event.key === "Escape";
	}
}, { capture: true });
addEventListener("keyup", (event) => {
	if (event.key === "Tab") {
		document.documentElement.classList.add("keys");
	}
}, { capture: true });
addEventListener("pointerdown", () => document.documentElement.classList.remove("keys"), { capture: true });

// A key struck while nothing has the focus is meant for the picture.
addEventListener("keydown", (event) => {
	const canvas = document.querySelector("canvas");
	if (document.activeElement === document.body && canvas && event.target !== canvas && event.key !== "Tab") {
		canvas.focus();
		if (!canvas.dispatchEvent(new KeyboardEvent("keydown", event))) {
			event.preventDefault();
		}
	}
});

// In a frame of another page the wheel scrolls that, until the picture has the focus.
if (window !== window.parent) {
	addEventListener("wheel", (event) => {
		if (!document.activeElement?.matches("canvas")) {
			event.stopImmediatePropagation();
		}
	}, { capture: true });
}
