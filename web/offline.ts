// Working without a network: the service worker keeps the page, and a newer version waits until the
// reader takes it.

import { registerSW } from 'virtual:pwa-register';

/** Calls back with the way to take a newer version, once one is ready. */
export function watchForUpdates(ready: (take: () => Promise<void>) => void): void {
  if (!('serviceWorker' in navigator) || !import.meta.env.PROD) return;
  const take = registerSW({ onNeedRefresh: () => ready(() => take(true)) });
}
