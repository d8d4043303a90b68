// What need not be there when a page is first seen waits until it is seen.

/** A page that is not in view is drawn in no frame; it goes on after this, ms. */
const UNSEEN = 400;

/** Calls back, once, when the browser has had a frame for what is drawn now. */
export function afterPaint(call: () => void): void {
  let isCalled = false;
  const go = (): void => {
    if (isCalled) return;
    isCalled = true;
    clearTimeout(timer);
    call();
  };
  const timer = setTimeout(go, UNSEEN);
  // A frame's callbacks come before its picture; a message sent in one comes after.
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (): void => {
      port1.close();
      go();
    };
    port2.postMessage(undefined);
  });
}
