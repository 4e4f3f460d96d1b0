/** What a device remembers about how it shows things. */
import { Units, type UnitsName } from "./units";

export const THEMES = [
  { value: "home", label: "Light" },
  { value: "dark", label: "Dark" },
  { value: "sun", label: "Sun" },
] as const;
export type Theme = (typeof THEMES)[number]["value"];

const KEY = "leadsman.settings";

/** Read something kept on this device; null if it is not there, broken or not allowed. */
export function recall<T>(key: string): Partial<T> | null {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(key) ?? "null");
    return typeof found === "object" && found !== null ? (found as Partial<T>) : null;
  } catch {
    return null;
  }
}

export function remember(key: string, value: unknown): void {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch {
    // a private window may forbid it; nothing is lost but convenience
  }
}

class Settings {
  theme = $state<Theme>("home");
  unitsName = $state<UnitsName>("us");
  /** Whether the person has chosen units; until then the kit decides. */
  unitsChosen = $state(false);
  units = $derived(new Units(this.unitsName));

  constructor() {
    const kept = recall<{ theme: Theme; units: UnitsName }>(KEY);
    const dark = globalThis.matchMedia?.("(prefers-color-scheme: dark)").matches;
    this.theme = THEMES.find((t) => t.value === kept?.theme)?.value ?? (dark ? "dark" : "home");
    if (kept?.units === "us" || kept?.units === "metric") {
      this.unitsName = kept.units;
      this.unitsChosen = true;
    }
    this.#apply();
  }

  setTheme(theme: Theme): void {
    this.theme = theme;
    this.#apply();
    this.#keep();
  }

  setUnits(units: UnitsName): void {
    this.unitsName = units;
    this.unitsChosen = true;
    this.#keep();
  }

  /** Units of the kit, unless the person chose others on this device. */
  suggestUnits(units: string): void {
    if (!this.unitsChosen && (units === "us" || units === "metric")) this.unitsName = units;
  }

  #apply(): void {
    document.documentElement.dataset.theme = this.theme;
  }

  #keep(): void {
    remember(KEY, { theme: this.theme, ...(this.unitsChosen ? { units: this.unitsName } : {}) });
  }
}

export const settings = new Settings();
