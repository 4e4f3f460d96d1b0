/** Which screen is shown: the part of the address after the #, as #/depth or #/pair/CODE. */
class Router {
  parts = $state<string[]>([]);

  constructor() {
    this.#read();
    addEventListener("hashchange", () => this.#read());
  }

  get name(): string {
    return this.parts[0] ?? "";
  }

  /** Go somewhere without leaving the present address in the history. */
  replace(address: string): void {
    history.replaceState(null, "", address);
    this.#read();
  }

  #read(): void {
    this.parts = location.hash.replace(/^#\/?/, "").split("/").filter(Boolean).map(decodeURIComponent);
  }
}

export const router = new Router();
