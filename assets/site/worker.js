// Keeps the site, so that it opens without its server: what the server has comes first, what was kept stands
// in for it. The two constants are set when the site is built.
"use strict";

const version = "@version@";
const files = "@files@";
const shelf = `sextant ${registration.scope} `;

addEventListener("install", (event) => {
	skipWaiting();
	event.waitUntil(caches.open(shelf + version).then((cache) =>
		cache.addAll(files.map((name) => new Request(name, { cache: "no-cache" })))));
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
		const kept = await cache.match(event.request, { ignoreSearch: true });
		if (!kept) {
			throw problem;
		}
		return kept;
	}));
});
