// Several tabs on one notebook: one writes, the others follow it. The browser's lock says which, and
// gives it on by itself when the writer closes or crashes; the tabs tell each other every kept text.
// A tab that wants to write asks the writer, which keeps what it has before it lets go.

import { type Kept, readKept } from './kept-record.ts';

/** A writer that does not answer within this is frozen: its lock is taken, ms. */
const PATIENCE = 1500;
const CHANNEL = 'dapple';

export type Role = 'writing' | 'following';

export interface TabListener {
  /** This tab writes from now on, or follows. Called on every change of role after `claim`. */
  readonly became: (role: Role) => void;
  /** Another tab kept a notebook, or changed which ones there are. */
  readonly heard: (entry: Kept) => void;
  /** Another tab wants to write: keep everything, and say what is kept once it is safe. */
  readonly handOver: () => Promise<Kept | undefined>;
  /** What this tab would keep now. */
  readonly current: () => Kept | undefined;
}

type Message =
  | { readonly kind: 'kept'; readonly entry: unknown }
  | { readonly kind: 'asks' | 'wants' | 'handed'; readonly id: string };

function readMessage(value: unknown): Message | undefined {
  if (typeof value !== 'object' || value === null) return undefined;
  const { kind, id, entry } = value as { kind?: unknown; id?: unknown; entry?: unknown };
  if (kind === 'kept') return { kind, entry };
  const known = kind === 'asks' || kind === 'wants' || kind === 'handed';
  return known && typeof id === 'string' ? { kind, id } : undefined;
}

function openChannel(): BroadcastChannel | undefined {
  return typeof BroadcastChannel === 'function' ? new BroadcastChannel(CHANNEL) : undefined;
}

function locksHere(): LockManager | undefined {
  return 'locks' in navigator ? navigator.locks : undefined;
}

export class TabLock {
  readonly #listener: TabListener;
  readonly #channel = openChannel();
  #id = '';
  #role: Role = 'writing';
  /** Lets the lock go. */
  #release: (() => void) | undefined;
  /** Ends the wait for the lock. */
  #queue: AbortController | undefined;
  #handed: (() => void) | undefined;

  constructor(listener: TabListener) {
    this.#listener = listener;
    this.#channel?.addEventListener('message', (event) => this.#hear(readMessage(event.data)));
  }

  /** The notebook whose lock is held or waited for. */
  get id(): string {
    return this.#id;
  }

  get role(): Role {
    return this.#role;
  }

  /** Tells the other tabs what was kept. */
  tell(entry: Kept): void {
    this.#channel?.postMessage({ kind: 'kept', entry } satisfies Message);
  }

  #hear(message: Message | undefined): void {
    if (!message) return;
    if (message.kind === 'kept') {
      const entry = readKept(message.entry);
      if (entry) this.#listener.heard(entry);
      return;
    }
    if (message.id !== this.#id) return;
    if (message.kind === 'handed') this.#handed?.();
    else if (this.#role === 'writing') {
      if (message.kind === 'wants') void this.#giveUp();
      else {
        const entry = this.#listener.current();
        if (entry) this.tell(entry);
      }
    }
  }

  // ── taking and waiting ──────────────────────────────────────────────────────────────────────

  /** Takes the lock of a notebook if no other tab has it, and waits for it otherwise. */
  async claim(id: string): Promise<Role> {
    this.leave();
    this.#id = id;
    const locks = locksHere();
    if (!locks) {
      this.#role = 'writing';
      return this.#role;
    }
    const got = await new Promise<boolean>((resolve) => {
      this.#hold(locks, { ifAvailable: true }, resolve);
    });
    if (this.#id !== id) return this.#role;
    this.#role = got ? 'writing' : 'following';
    if (!got) this.#wait(locks);
    return this.#role;
  }

  /** Asks the writing tab for its text as it is now; it answers as if it had just been kept. */
  ask(): void {
    this.#channel?.postMessage({ kind: 'asks', id: this.#id } satisfies Message);
  }

  /** Asks for the lock; tells whether it came, and holds it until released or taken. */
  #hold(locks: LockManager, options: LockOptions, answered: (got: boolean) => void): void {
    const id = this.#id;
    let release: (() => void) | undefined;
    const held = locks.request(`dapple.${id}`, options, (lock) => {
      if (!lock || this.#id !== id) {
        answered(false);
        return undefined;
      }
      return new Promise<void>((resolve) => {
        release = resolve;
        this.#release = resolve;
        answered(true);
      });
    });
    held.catch(() => {
      // Taken by another tab; or no longer waited for, when it never came.
      if (!release) answered(false);
      else if (this.#release === release) this.#lost();
    });
  }

  #lost(): void {
    this.#release = undefined;
    this.#follow();
  }

  #follow(): void {
    const wrote = this.#role === 'writing';
    this.#role = 'following';
    if (wrote) this.#listener.became('following');
    const locks = locksHere();
    if (locks) this.#wait(locks);
  }

  #wait(locks: LockManager): void {
    this.#queue?.abort();
    this.#queue = new AbortController();
    this.#hold(locks, { signal: this.#queue.signal }, (got) => {
      if (got) this.#write();
    });
  }

  #write(): void {
    if (this.#role === 'writing') return;
    this.#role = 'writing';
    this.#listener.became('writing');
  }

  // ── handing over ────────────────────────────────────────────────────────────────────────────

  /** Another tab asked: everything is kept, and then the lock goes to it. */
  async #giveUp(): Promise<void> {
    const id = this.#id;
    this.#role = 'following';
    const entry = await this.#listener.handOver();
    if (this.#id !== id) return;
    if (entry) this.tell(entry);
    this.#channel?.postMessage({ kind: 'handed', id } satisfies Message);
    this.#listener.became('following');
    // The tab that asked takes the lock, ahead of any that wait. If it did not, it is gone.
    const held = this.#release;
    setTimeout(() => {
      if (held && this.#release === held) this.#write();
    }, PATIENCE);
  }

  /** This tab is to write: asks the writer to keep and let go, and takes the lock then. */
  async writeHere(): Promise<void> {
    const locks = locksHere();
    if (this.#role === 'writing' || !locks) return;
    const id = this.#id;
    await new Promise<void>((resolve) => {
      const late = setTimeout(resolve, PATIENCE);
      this.#handed = (): void => {
        clearTimeout(late);
        resolve();
      };
      this.#channel?.postMessage({ kind: 'wants', id } satisfies Message);
    });
    this.#handed = undefined;
    if (this.#id !== id || this.#role !== 'following') return;
    this.#queue?.abort();
    this.#hold(locks, { steal: true }, (got) => {
      if (got) this.#write();
    });
  }

  /** The notebook is left. */
  leave(): void {
    this.#id = '';
    this.#queue?.abort();
    this.#queue = undefined;
    this.#release?.();
    this.#release = undefined;
  }
}
