// Keeps the app on the device, so that it starts without a network. It keeps exactly the files below, all or none, and
// gives way to a newer version only when the person says so. It never touches anything under /v1/.
const VERSION = 'nearside-/*VERSION*/';
const FILES = ['/', /*FILES*/];

self.addEventListener('install', (event) => event.waitUntil(install()));
self.addEventListener('activate', (event) => event.waitUntil(activate()));

// The page sends this when the person has tapped "use the new version".
self.addEventListener('message', (event) => {
  if (event.data === 'activate-now') self.skipWaiting();
});

// An alert that was tapped opens the app at what it is about.
self.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil(open(event.notification.data ?? '/jobs'));
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  // Other pages of the server (about its certificate, say) are the server's own.
  if (url.pathname !== '/' && !url.pathname.startsWith('/app/')) return;
  event.respondWith(answer(request, url));
});

// One file that cannot be had fails the whole installation: the version before stays in use.
async function install() {
  const cache = await caches.open(VERSION);
  await Promise.all(FILES.map(async (file) => {
    // A file whose name holds its hash is the same wherever it comes from.
    const known = file === '/' ? undefined : await caches.match(file);
    const response = known ?? await fetch(file, { cache: file === '/' ? 'no-cache' : 'default' });
    if (!response.ok) throw new Error(`${file}: ${response.status}`);
    await cache.put(file, response);
  }));
}

async function activate() {
  for (const name of await caches.keys()) {
    if (name.startsWith('nearside-') && name !== VERSION) await caches.delete(name);
  }
  await self.clients.claim();
}

async function answer(request, url) {
  const cache = await caches.open(VERSION);
  const kept = await cache.match(url.pathname);
  return kept ?? fetch(request);
}

async function open(path) {
  const [page] = await self.clients.matchAll({ type: 'window', includeUncontrolled: true });
  if (!page) return self.clients.openWindow(`/#${path}`);
  page.postMessage(path);
  return page.focus();
}
