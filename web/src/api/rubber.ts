// What the server says about rubber, motors and torque meters, by the names the pages use; all generated from
// docs/openapi.yaml. A question holds tables as the fields of the pages hold them.
import type { components } from '../../generated/schema';
import type { JobTable, Profile } from './types';

type Schemas = components['schemas'];

/** Quantities are the builder's own text, so the tables are only checked by the server. */
export type RubberQuestion = { units: Profile } & { [Table in 'batch' | 'other' | 'breaking' | 'history' | 'strip' | 'partial' | 'meter' | 'winder']?: JobTable };
export type RubberAnswer = Schemas['Rubber'];
export type RubberBatch = Schemas['RubberBatch'];
export type RubberSpread = Schemas['RubberSpread'];
export type RubberComparison = Schemas['RubberComparison'];
export type RubberBreaking = Schemas['RubberBreaking'];
export type LoggedMotor = Schemas['LoggedMotor'];
export type RubberHistory = Schemas['RubberHistory'];
export type RubberStrip = Schemas['RubberStrip'];
export type RubberPartial = Schemas['RubberPartial'];
export type RubberMeter = Schemas['Meter'];
