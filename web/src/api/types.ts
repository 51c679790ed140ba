// The shapes the server answers with, by the names the pages use: all generated from
// docs/openapi.yaml (npm run api).
import type { components } from '../../generated/schema';

type Schemas = components['schemas'];

export type Problem = Schemas['Problem'];
export type JobScalar = Schemas['JobScalar'];
export type JobValue = Schemas['JobValue'];
export type JobTable = Schemas['JobTable'];
export type Attachments = Schemas['Attachments'];
export type DesignDocument = Schemas['DesignDocument'];
export type Profile = 'metric' | 'inch';

export type FieldInfo = Schemas['FieldInfo'];
export type Example = Schemas['Example'];
export type Health = Schemas['Health'];

export type Flight = Schemas['Flight'];
export type FlightRequest = Schemas['FlightRequest'];
export type Headline = Schemas['Headline'];
export type Follows = Schemas['Follows'];
export type FallStep = Schemas['FallStep'];
export type History = Schemas['History'];
export type BladeShape = Schemas['BladeShape'];
export type Phase = Schemas['Phase'];
export type PhaseKey = Phase['key'];
export type RotorCurves = Schemas['RotorCurves'];
export type MotorCurve = Schemas['MotorCurve'];
export type EnergyLedger = Schemas['EnergyLedger'];
export type WeightRow = Schemas['WeightRow'];
export type RuleRow = Schemas['RuleRow'];

export type InHand = Schemas['InHand'];
export type Shape = Schemas['Shape'];
export type ShapeWishes = Schemas['ShapeWishes'];
export type Readings = Schemas['Readings'];

export type WorkRequest = Schemas['WorkRequest'];
export type Spread = Schemas['Spread'];
export type Sensitivities = Schemas['Sensitivities'];
export type PacketDone = Schemas['PacketDone'];

/** The records that fill a part of the job; the form shelf and the bench stand apart. */
export type StockKind = Extract<Schemas['RecordKind'], 'halls' | 'models' | 'rubbers' | 'motors'>;
export type ShelfKind = Extract<Schemas['RecordKind'], 'forms' | 'cylinders'>;
export type BenchKind = Exclude<Schemas['RecordKind'], StockKind | ShelfKind>;
/** Written bit by bit under the hand: the bench's, and rubber with its motors. */
export type KeptKind = BenchKind | 'rubbers' | 'motors';
export type StockRecord = Schemas['Record'];
export type StockPage = Schemas['RecordPage'];
export type DesignSummary = Schemas['DesignSummary'];
export type DesignVersion = Schemas['DesignVersion'];
export type DesignPage = Schemas['DesignPage'];
export type DesignRecord = Schemas['Design'];

export type SparRig = Schemas['SparRig'];
export type SparText = Schemas['SparText'];
export type SparStateText = Schemas['SparStateText'];
export type SparsRequest = Schemas['SparsRequest'];
export type Spars = Schemas['Spars'];
export type Spar = Schemas['Spar'];
export type SparState = Schemas['SparState'];
export type SparPair = Schemas['SparPair'];
export type SparEndView = Schemas['SparEndView'];
export type SparSanding = Schemas['SparSanding'];
export type SparNow = NonNullable<Schemas['SparNow']>;
export type SparProblem = Schemas['SparProblem'];
export type SparQuestion = Schemas['SparQuestion'];
export type SparsOfCsv = Schemas['SparsOfCsv'];
