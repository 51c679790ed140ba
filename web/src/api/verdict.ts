// What flights say: which propeller is the better, and what they teach the model (POST /api/verdict, /api/learn).
import type { LoggedFlight } from '../floor/flight';
import type { DesignDocument } from './types';

/** Pure numbers, shares as shares; what is left out is as the program usually has it. */
export type Beliefs = { tail_freedom?: number; normal?: boolean; shared_scatter?: boolean; scatter_median?: number; scatter_spread?: number; flat_scatter?: boolean; level_sigma?: number };
export type Thresholds = { sure?: number; sure_without_one?: number; least_flights?: number; margin?: number; planned?: number; most_flights?: number };

export type VerdictQuestion = { flights: LoggedFlight[]; jobs?: DesignDocument[]; beliefs?: Beliefs; thresholds?: Thresholds; learn?: boolean; masses?: { [propeller: string]: string } };
export type LearnQuestion = { flights: LoggedFlight[]; jobs: DesignDocument[] };
export type SheetQuestion = VerdictQuestion & { paper: 'a4' | 'letter'; date: string };

export type Interval = [number, number];

export type VerdictPropeller = {
  name: string;
  letter: string;
  flights: number;
  probability_best: number;
  /** Null where nothing is known of it yet; the last two also while there is nothing to compare it with. */
  share: number | null;
  share_interval: Interval | null;
  duration_s: number | null;
  duration_interval_s: Interval | null;
  gain_s: number | null;
  interval_s: Interval | null;
  mass_kg: number | null;
  ballast_kg: number | null;
};

export type FlightShare = {
  flight: number;
  id: string;
  time: string;
  propeller: string;
  letter: string;
  duration_s: number | null;
  expected_s: number | null;
  share: number | null;
  sigma: number | null;
  /** As logged, 1 in full. */
  weight: number;
  /** What of it the heavy tail lets count; null where it is left out. */
  fits: number | null;
  steered: boolean;
  left_out: string;
};

export type VerdictAnswer = {
  headline: string;
  sentence: string;
  decision: 'best' | 'no_matter' | 'cannot_tell_yet';
  leader: string | null;
  runner_up: string | null;
  reason: string;
  reference: { propeller: string; duration_s: number; what: string; learned: boolean };
  propellers: VerdictPropeller[];
  scatter: number | null;
  scatter_interval: Interval | null;
  no_matter_probability: number;
  probability_without_one: number;
  flight_without_one: number | null;
  odds_history: { flights: number; probability_best: number[] }[];
  shares: FlightShare[];
  more_flights: number | null;
  outlook: { even_each: number | null; planned_each: number | null; steps: { each: number; settles: number; worth_s: number }[] };
  order: string[];
  power: { difference: number; scatter: number; flights_each: number; flights_each_here: number | null; sentence: string };
  fair_test: { model: string; hall: string; motor: string; wind_turns: number | null; launch_turns: number | null; launch_torque_Nm: number | null; caution: string };
  beliefs: { tail_freedom: number | null; normal: boolean; shared_scatter: boolean; scatter_median: number; scatter_spread: number | null; flat_scatter: boolean; level_sigma: number | null };
  thresholds: Required<Thresholds>;
  notes: string[];
};

export type LearnedParameter = {
  name: string;
  key: string;
  owner: string;
  label: string;
  kind: 'factor' | 'angle_deg';
  prior: number;
  prior_interval: Interval;
  posterior: number;
  interval: Interval;
  sigma: number;
  state: 'moved' | 'confirmed' | 'unseen';
  sentence: string;
};

export type LearnedChange = {
  propeller: string;
  before_s: number;
  before_sigma_s: number;
  after_s: number;
  after_sigma_s: number;
  before_top_m: number;
  after_top_m: number;
};

export type FlightResidual = {
  flight: number;
  id: string;
  time: string;
  propeller: string;
  observed_s: number | null;
  before_s: number | null;
  after_s: number | null;
  residual: number | null;
  weight: number;
};

export type NextCandidate = {
  key: string;
  change: string;
  new_blades: boolean;
  gain_s: number;
  sigma_s: number;
  expected_improvement_s: number;
  probability_10_s: number;
  teaches: string;
};

export type LearnAnswer = {
  flights: { given: number; used: number; left_out: { flight: number; id: string; reason: string }[] };
  parameters: LearnedParameter[];
  entangled: string[];
  changes: LearnedChange[];
  residuals: FlightResidual[];
  misfits: { flight: number; id: string; time: string; propeller: string; weight: number; reasons: string[] }[];
  next: { propeller: string; candidates: NextCandidate[] }[];
  converged: boolean;
  notes: string[];
};
