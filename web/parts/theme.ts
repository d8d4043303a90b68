// The three lights the page can be read in: Day, Dusk and Red. The choice is remembered on the
// device; until there is one, the device's own preference decides.

export type Theme = 'light' | 'dark' | 'red';

export const THEMES: readonly { readonly theme: Theme; readonly word: string }[] = [
  { theme: 'light', word: 'Day' },
  { theme: 'dark', word: 'Dusk' },
  { theme: 'red', word: 'Red' },
];

const KEY = 'dapple.theme';

function remembered(): Theme | undefined {
  try {
    const kept = localStorage.getItem(KEY);
    return THEMES.find(({ theme }) => theme === kept)?.theme;
  } catch {
    return undefined;
  }
}

/** The theme now in force. */
export function currentTheme(): Theme {
  const shown = document.documentElement.dataset.theme;
  return THEMES.find(({ theme }) => theme === shown)?.theme ?? 'light';
}

export function wordOf(theme: Theme): string {
  return THEMES.find((entry) => entry.theme === theme)?.word ?? 'Day';
}

export function nextTheme(theme: Theme): Theme {
  const index = THEMES.findIndex((entry) => entry.theme === theme);
  return THEMES[(index + 1) % THEMES.length]?.theme ?? 'light';
}

/** Puts a theme in force and, when asked, remembers it. */
export function applyTheme(theme: Theme, remember: boolean): void {
  document.documentElement.dataset.theme = theme;
  if (!remember) return;
  try {
    localStorage.setItem(KEY, theme);
  } catch {
    // A device that keeps nothing still shows the theme until the page is closed.
  }
}

/** The theme for the first paint. */
export function startTheme(): void {
  const dark = matchMedia('(prefers-color-scheme: dark)').matches;
  applyTheme(remembered() ?? (dark ? 'dark' : 'light'), false);
}
