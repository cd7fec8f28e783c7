/** How the reader likes the app: kept in this browser, apart from the journal. */
export interface Prefs {
  scheme: 'system' | 'light' | 'dark';
  letters: 'usual' | 'plain';
  /** Single-letter keys outside fields. */
  keys: boolean;
  size: 'usual' | 'large';
  schoolYearStart: string;
}

const USUAL: Prefs = {
  scheme: 'system',
  letters: 'usual',
  keys: true,
  size: 'usual',
  schoolYearStart: '09-01',
};
const STORED = 'bookweft.prefs';

function read(): Prefs {
  try {
    return { ...USUAL, ...(JSON.parse(localStorage.getItem(STORED) ?? '{}') as Partial<Prefs>) };
  } catch {
    return { ...USUAL };
  }
}

class PrefsHeld {
  held = $state<Prefs>(read());

  /** Changes one preference, shows it at once and keeps it where the browser allows. */
  set<K extends keyof Prefs>(name: K, value: Prefs[K]): void {
    this.held[name] = value;
    this.show();
    try {
      localStorage.setItem(STORED, JSON.stringify($state.snapshot(this.held)));
    } catch {
      // A browser that stores nothing still shows the choice for this sitting.
    }
  }

  show(): void {
    const root = document.documentElement;
    const put = (name: string, value: string, usual: string): void => {
      if (value === usual) root.removeAttribute(name);
      else root.setAttribute(name, value);
    };
    put('data-scheme', this.held.scheme, 'system');
    put('data-letters', this.held.letters, 'usual');
    put('data-size', this.held.size, 'usual');
  }
}

export const prefs = new PrefsHeld();
