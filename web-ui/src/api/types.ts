/** Short names for the forms of the API. */
import type { components } from "./schema";

type Forms = components["schemas"];

export type DepthAsked = Forms["DepthAsked"];
export type DepthPicture = Forms["DepthPictureDocument"];
export type DepthAnswer = Forms["DepthDocument"];
export type SideViewForm = Forms["SideViewForm"];
export type Levers = Forms["LeversDocument"];
export type Lever = Forms["LeverForm"];
export type Kit = Forms["KitDocument"];
export type ObservationAsked = Forms["ObservationAsked"];
export type Observed = Forms["ObserveDocument"];
export type Tuned = Forms["TuneDocument"];
export type TunedLure = Forms["TunedLureForm"];
export type Hello = Forms["Hello"];
export type Problem = Forms["Problem"];
