// Keeps the site, so that it opens without its server: what the server has comes first, what was kept stands
// in for it. The two constants are set when the site is built.
"use strict";

const version = "@version@";
const files = "@files@";
const shelf = `sextant ${registration.scope} `;

// A browser that does not unpack keeps the program as it is.
const unpacks = typeof DecompressionStream === "function";
const kept = files.map((name) => (unpacks ? name : name.replace(/\.gz$/, "")));

addEventListener("install", (event) => {
	skipWaiting();
	event.waitUntil(caches.open(shelf + version).then((cache) =>
		cache.addAll(kept.map((name) => new Request(name, { cache: "no-cache" })))));
});

addEventListener("activate", (event) => {
	event.waitUntil(caches.keys().then((names) => Promise.all(names
		.filter((name) => name.startsWith(shelf) && name !== shelf + version)
		.map((name) => caches.delete(name)))));
});

addEventListener("fetch", (event) => {
	if (event.request.method !== "GET") {
		return;
	}
	event.respondWith(fetch(event.request).catch(async (problem) => {
		const cache = await caches.open(shelf + version);
		const answer = await cache.match(event.request, { ignoreSearch: true });
		if (!answer) {
			throw problem;
		}
		return answer;
	}));
});
