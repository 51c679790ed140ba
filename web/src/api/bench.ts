// What the server says about the bench: stock, blades, hub, weights, by the names the pages use; all generated
// from docs/openapi.yaml. A question holds tables as the fields of the pages hold them.
import type { components } from '../../generated/schema';
import type { DesignDocument, JobTable, Profile } from './types';

type Schemas = components['schemas'];

/** Quantities are the builder's own text, so the tables are only checked by the server. */
export type BenchQuestion = Partial<DesignDocument> & {
  units: Profile;
  relative_sigma?: number;
} & { [Table in 'stock' | 'pick' | 'blades']?: JobTable[] } & {
  [Table in 'instruments' | 'pair' | 'twist_test' | 'tube' | 'hub' | 'weighings' | 'ledger' | 'shaking' | 'replacement']?: JobTable;
};

export type BenchAnswer = Schemas['Bench'];
export type StockItem = Schemas['BenchStockItem'];
export type Pick = Schemas['BenchPick'];
export type BladeFigures = Schemas['BenchBlade'];
export type BladePair = Schemas['BenchPair'];
export type PairCheck = Schemas['BenchPairCheck'];
export type PairAngle = Schemas['BenchPairAngle'];
export type Twist = Schemas['BenchTwist'];
export type Tube = Schemas['BenchTube'];
export type Hub = Schemas['BenchHub'];
export type HubCheck = Schemas['BenchHubCheck'];
export type Weighings = Schemas['BenchWeighings'];
export type Ledger = Schemas['BenchLedger'];
export type LedgerRow = Schemas['BenchLedgerRow'];
export type Shaking = Schemas['BenchShaking'];
export type Target = Schemas['BenchTarget'];
