/** Quantities as people read them; SI inside. Rounding as in docs/conventions.md. */
export type UnitsName = "us" | "metric";

export interface Shown {
  unit: string;
  /** SI units in one shown unit. */
  factor: number;
  digits: number;
}

export type QuantityName = "depth" | "distance" | "reelSpeed" | "speed" | "mass" | "size" | "diameter" | "test";

const METRE_PER_FOOT = 0.3048;
const METRE_PER_YARD = 0.9144;
const M_S_PER_MPH = 0.44704;
const KG_PER_OUNCE = 0.45359237 / 16;
const NEWTON_PER_POUND = 0.45359237 * 9.80665;
const NEWTON_PER_KG = 9.80665;

const TABLE: Record<UnitsName, Record<QuantityName, Shown>> = {
  us: {
    depth: { unit: "ft", factor: METRE_PER_FOOT, digits: 1 },
    distance: { unit: "yd", factor: METRE_PER_YARD, digits: 0 },
    reelSpeed: { unit: "ft/s", factor: METRE_PER_FOOT, digits: 1 },
    speed: { unit: "mph", factor: M_S_PER_MPH, digits: 0 },
    mass: { unit: "oz", factor: KG_PER_OUNCE, digits: 2 },
    size: { unit: "in", factor: METRE_PER_FOOT / 12, digits: 2 },
    diameter: { unit: "mm", factor: 1e-3, digits: 2 },
    test: { unit: "lb", factor: NEWTON_PER_POUND, digits: 0 },
  },
  metric: {
    depth: { unit: "m", factor: 1, digits: 2 },
    distance: { unit: "m", factor: 1, digits: 0 },
    reelSpeed: { unit: "m/s", factor: 1, digits: 2 },
    speed: { unit: "m/s", factor: 1, digits: 1 },
    mass: { unit: "g", factor: 1e-3, digits: 1 },
    size: { unit: "cm", factor: 1e-2, digits: 1 },
    diameter: { unit: "mm", factor: 1e-3, digits: 2 },
    test: { unit: "kg", factor: NEWTON_PER_KG, digits: 1 },
  },
};

export class Units {
  constructor(readonly name: UnitsName) {}

  of(quantity: QuantityName): Shown {
    return TABLE[this.name][quantity];
  }

  number(quantity: QuantityName, si: number, digits?: number): string {
    const { factor, digits: usual } = this.of(quantity);
    const text = (si / factor).toFixed(digits ?? usual);
    return Number(text) === 0 ? text.replace("-", "") : text;
  }

  text(quantity: QuantityName, si: number, digits?: number): string {
    return `${this.number(quantity, si, digits)} ${this.of(quantity).unit}`;
  }

  band(quantity: QuantityName, low: number, high: number): string {
    return `${this.number(quantity, low)} to ${this.number(quantity, high)} ${this.of(quantity).unit}`;
  }

  change(quantity: QuantityName, si: number): string {
    const text = this.number(quantity, si);
    return `${Number(text) > 0 ? "+" : ""}${text.replace("-", "−")} ${this.of(quantity).unit}`;
  }
}
