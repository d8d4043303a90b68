// One notebook, several tabs: one of them writes, the others follow. The browser's own lock says
// which; it passes on when the writer closes or crashes. Texts travel by a channel as they are kept.

export interface TabLockListener {
  /** This tab writes from now on; `wasFollowing` when another did before. */
  readonly writes: (wasFollowing: boolean) => void;
  /** Another tab writes; this one shows what that one keeps. */
  readonly follows: () => void;
  /** The writer kept another text. */
  readonly told: (text: string) => void;
  /** Another tab asks to write: keep what is to be kept, now. */
  readonly asked: () => void;
}

type Message = { readonly kind: 'text'; readonly text: string } | { readonly kind: 'take' };

function isMessage(value: unknown): value is Message {
  if (typeof value !== 'object' || value === null) return false;
  const { kind, text } = value as Readonly<Record<string, unknown>>;
  return kind === 'take' || (kind === 'text' && typeof text === 'string');
}

export class TabLock {
  readonly #name: string;
  readonly #listener: TabLockListener;
  readonly #channel: BroadcastChannel | undefined;
  #letGo: (() => void) | undefined;
  #following = false;
  #closed = false;
  /** Ends the wait in the browser's queue. */
  #queued: AbortController | undefined;

  constructor(id: string, listener: TabLockListener) {
    this.#name = `dapple:${id}`;
    this.#listener = listener;
    this.#channel =
      typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel(this.#name);
    this.#channel?.addEventListener('message', (event: MessageEvent<unknown>) => {
      if (isMessage(event.data)) this.#heard(event.data);
    });
  }

  /** Settles when it is known whether this tab writes or follows. */
  async begin(): Promise<void> {
    if (!navigator.locks) {
      this.#listener.writes(false);
      return;
    }
    const isFree = await new Promise<boolean>((resolve) => {
      void navigator.locks.request(this.#name, { ifAvailable: true }, (lock) => {
        resolve(lock !== null);
        return lock === null ? undefined : this.#held();
      });
    });
    if (isFree) this.#listener.writes(false);
    else this.#follow();
  }

  /** Holds the lock until it is let go. */
  #held(): Promise<void> {
    return new Promise((resolve) => {
      this.#letGo = resolve;
    });
  }

  #follow(): void {
    this.#following = true;
    this.#listener.follows();
    this.#queue();
  }

  /** Waits for the writer to go. */
  #queue(): void {
    const queued = new AbortController();
    this.#queued = queued;
    navigator.locks
      .request(this.#name, { signal: queued.signal }, () => {
        if (this.#closed) return undefined;
        this.#following = false;
        this.#listener.writes(true);
        return this.#held();
      })
      .catch(() => {
        // Left before the lock came free.
      });
  }

  #heard(message: Message): void {
    if (message.kind === 'text') {
      if (this.#following) this.#listener.told(message.text);
      return;
    }
    if (this.#following || !this.#letGo) return;
    this.#listener.asked();
    // In the queue behind the tab that asked, before that one is let in.
    this.#follow();
    this.#letGo();
    this.#letGo = undefined;
  }

  /** Tells the others what was kept. */
  tell(text: string): void {
    if (!this.#following) this.#channel?.postMessage({ kind: 'text', text } satisfies Message);
  }

  /** Asks the writer to hand over. */
  take(): void {
    this.#channel?.postMessage({ kind: 'take' } satisfies Message);
  }

  close(): void {
    this.#closed = true;
    this.#queued?.abort();
    this.#letGo?.();
    this.#letGo = undefined;
    this.#channel?.close();
  }
}
