// What flights say: which propeller is the better, and what they teach the model (POST /api/verdict, /api/learn); all
// generated from docs/openapi.yaml.
import type { components } from '../../generated/schema';
import type { LoggedFlight } from '../floor/flight';
import type { DesignDocument } from './types';

type Schemas = components['schemas'];

export type Interval = [number, number];
/** The generated types know lists, but not that these have two members. */
type WithIntervals<T> = { [K in keyof T]: K extends `${string}interval${string}` ? Interval | Extract<T[K], null> : T[K] };

/** Pure numbers, shares as shares; what is left out is as the program usually has it. */
export type Beliefs = { tail_freedom?: number; normal?: boolean; shared_scatter?: boolean; scatter_median?: number; scatter_spread?: number; flat_scatter?: boolean; day_scatter?: number; level_sigma?: number };
export type Thresholds = { sure?: number; sure_without_one?: number; least_flights?: number; margin?: number; planned?: number; most_flights?: number };

export type VerdictQuestion = { flights: LoggedFlight[]; jobs?: DesignDocument[]; beliefs?: Beliefs; thresholds?: Thresholds; learn?: boolean };
export type LearnQuestion = { flights: LoggedFlight[]; jobs: DesignDocument[] };
export type SheetQuestion = VerdictQuestion & Required<Pick<Schemas['FairTestQuestion'], 'paper' | 'date'>> & Pick<Schemas['FairTestQuestion'], 'winder_ratio'>;

export type VerdictPropeller = WithIntervals<Schemas['VerdictPropeller']>;
export type FlightShare = Schemas['VerdictShare'];
export type VerdictAnswer = Omit<WithIntervals<Schemas['Verdict']>, 'propellers'> & { propellers: VerdictPropeller[] };

export type LearnedParameter = WithIntervals<Schemas['LearnParameter']>;
export type FlightResidual = Schemas['LearnResidual'];
export type LearnAnswer = Omit<Schemas['Learn'], 'parameters'> & { parameters: LearnedParameter[] };
