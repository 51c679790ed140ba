// What the server says about the flexing blade and the built pair; all generated from docs/openapi.yaml.
import type { components } from '../../generated/schema';
import type { DesignDocument, JobTable } from './types';

type Schemas = components['schemas'];

export type FlexBlade = Schemas['FlexBlade'];
export type FlexState = Schemas['FlexState'];
export type FlexStation = Schemas['FlexStation'];
export type FlexChoice = Schemas['FlexChoice'];
export type FlexSparEnd = Schemas['FlexSparEnd'];
export type FlexFlight = Schemas['FlexFlight'];

export type BuiltPair = Schemas['Pair'];
export type PairFlaw = Schemas['PairFlaw'];
export type ToleranceCard = Schemas['PairCard'];
export type PairTolerance = Schemas['PairTolerance'];
/** Readings are the builder's own text, so they are only checked by the server. */
export type PairQuestion = DesignDocument & { as_built: JobTable };
