// Working without a network: the service worker keeps the whole page, and a newer version waits until
// the reader takes it. Taking it changes every open tab, so every tab is told.

const LOOK_AGAIN = 60 * 60 * 1000;

export interface UpdateListener {
  /** A newer version is ready; `take` puts it in place in every tab. */
  readonly ready: (take: () => void) => void;
  /** A newer version was taken, here or in another tab: parts not yet loaded are gone. */
  readonly taken: () => void;
}

/** Keeps the page for use without a network, and listens for newer versions of it. */
export function watchForUpdates(listener: UpdateListener): void {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  const { serviceWorker } = navigator;
  let controlled = serviceWorker.controller !== null;
  serviceWorker.addEventListener('controllerchange', () => {
    // The first to take control keeps the version that is here.
    if (controlled) listener.taken();
    controlled = true;
  });
  const start = (): void => {
    serviceWorker.register('./sw.js', { scope: './', updateViaCache: 'none' }).then(
      (registration) => watch(registration, listener),
      // Without it the page works as long as the network does.
      () => undefined,
    );
  };
  if (document.readyState === 'complete') start();
  else addEventListener('load', start, { once: true });
}

function watch(registration: ServiceWorkerRegistration, listener: UpdateListener): void {
  const offer = (worker: ServiceWorker): void =>
    listener.ready(() => worker.postMessage({ type: 'SKIP_WAITING' }));
  const follow = (worker: ServiceWorker | null): void => {
    worker?.addEventListener('statechange', () => {
      if (worker.state === 'installed' && registration.active) offer(worker);
    });
  };
  if (registration.waiting && registration.active) offer(registration.waiting);
  follow(registration.installing);
  registration.addEventListener('updatefound', () => follow(registration.installing));
  setInterval(() => void registration.update().catch(() => undefined), LOOK_AGAIN);
}
