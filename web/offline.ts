// Working without a network: the service worker keeps the whole page, and a newer version waits until
// the reader takes it. Taking it changes every open tab, so every tab is told.

const LOOK_AGAIN = 60 * 60 * 1000;
/** The page is kept after this even if nothing was shown, ms. */
const AT_LAST = 5000;

export interface UpdateListener {
  /** A newer version is ready; `take` puts it in place in every tab. */
  readonly ready: (take: () => void) => void;
  /** A newer version was taken, here or in another tab: parts not yet loaded are gone. */
  readonly taken: () => void;
}

/**
 * Keeps the page for use without a network, and listens for newer versions of it. Keeping fetches
 * everything there is: it begins once what was asked for is shown, so that this does not share its line.
 */
export function watchForUpdates(listener: UpdateListener, shown: Promise<void>): void {
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
  const atLast = new Promise<void>((resolve) => setTimeout(resolve, AT_LAST));
  void Promise.race([shown, atLast]).then(start);
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
