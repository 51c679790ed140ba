// Keeps the pages for when the program does not answer. The program goes first, always: what is kept here is
// handed out only where it cannot be reached, and belongs to one version of the pages.
const version = '__VERSION__';
const files = ['__FILES__'];
const cache_name = `propwright-pages-${version}`;
/** The program may be there but slow; after this long the kept page is shown, ms. */
const patience_ms = 4000;

self.addEventListener('install', (event) => {
  event.waitUntil(
    caches
      .open(cache_name)
      .then((cache) => cache.addAll(files.map((path) => new Request(path, { cache: 'no-cache' }))))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  const old = (name) => name.startsWith('propwright-pages-') && name !== cache_name;
  event.waitUntil(
    caches
      .keys()
      .then((names) => Promise.all(names.filter(old).map((name) => caches.delete(name))))
      .then(() => self.clients.claim()),
  );
});

async function kept(request) {
  const cache = await caches.open(cache_name);
  const found = await cache.match(request, { ignoreSearch: true });
  if (found) return found;
  return request.mode === 'navigate' ? cache.match('/index.html') : undefined;
}

async function answer(request) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), patience_ms);
  try {
    return await fetch(request, { signal: stop.signal });
  } catch (error) {
    const found = await kept(request);
    if (found) return found;
    throw error;
  } finally {
    clearTimeout(timer);
  }
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin || address.pathname.startsWith('/api/')) return;
  event.respondWith(answer(request));
});
