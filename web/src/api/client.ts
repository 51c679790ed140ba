// Talking to the server the pages came from, and to nobody else. Paths, bodies and answers are typed
// by docs/openapi.yaml.
import createClient from 'openapi-fetch';
import type { components, paths } from '../../generated/schema';
import type { BenchAnswer, BenchQuestion } from './bench';
import type { BuiltPair, FlexBlade, PairQuestion, ToleranceCard } from './flex';
import type { FormAnswer, FormRequest, FormWork, ResetAnswer, ResetRequest } from './form';
import type { RubberAnswer, RubberQuestion } from './rubber';
import type { LearnAnswer, LearnQuestion, SheetQuestion, VerdictAnswer, VerdictQuestion } from './verdict';
import type { WindAnswer } from '../floor/wind';
import type { Meter, Today } from '../floor/remote';
import type { DesignDocument, Flight, FlightRequest, Problem, Profile, Readings, ShapeWishes, Spars, SparsRequest, WorkRequest } from './types';

/** The server answered, but not with what was asked for. */
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problem[],
    readonly body: unknown,
  ) {
    super(problems[0]?.message ?? `The server answered ${status}.`);
  }
}

/** No answer: the program was stopped, or the network to it is gone. */
export class Gone extends Error {}

export type Answer<T> = { body: T; etag: string | null };

/** What is only read is there soon, or the network is gone without a word. */
const first_word_ms = 10000;
/** The winding card of today. */
const wind_ms = 10000;

/** A signal that gives a request up after a while: then nobody answers. */
export function within(ms: number): AbortSignal {
  const end = new AbortController();
  setTimeout(() => end.abort(new Gone('The program does not answer in time.')), ms);
  return end.signal;
}

/** Reading is given up where not even the head of an answer comes in time; what is worked out may take its time. */
async function fetch_in_time(request: Request): Promise<Response> {
  if (request.method !== 'GET') return fetch(request);
  const end = new AbortController();
  const give_up = () => end.abort(request.signal.reason);
  if (request.signal.aborted) give_up();
  request.signal.addEventListener('abort', give_up);
  const timer = setTimeout(() => end.abort(new Gone('The program does not answer in time.')), first_word_ms);
  try {
    return await fetch(request, { signal: end.signal });
  } finally {
    clearTimeout(timer);
  }
}

export const client = createClient<paths>({ baseUrl: '', credentials: 'same-origin', cache: 'no-store', fetch: fetch_in_time });

/** The answer of a request, or one of the two errors above. */
export async function answer<T>(request: Promise<{ data?: T; error?: unknown; response: Response }>): Promise<Answer<T>> {
  let told: { data?: T; error?: unknown; response: Response };
  try {
    told = await request;
  } catch (error) {
    if (error instanceof TypeError) throw new Gone('The program does not answer.');
    // A page where data were asked for: the hall's network wants something first.
    if (error instanceof SyntaxError) throw new Gone('Something else answers in the place of the program.');
    throw error;
  }
  if (!told.response.ok) throw new Refused(told.response.status, problems_in(told.error, told.response.status), told.error);
  return { body: told.data as T, etag: told.response.headers.get('ETag') };
}

function problems_in(body: unknown, status: number): Problem[] {
  const list = (body as { problems?: Problem[] } | null | undefined)?.problems;
  if (Array.isArray(list) && list.length > 0) return list;
  return [said(`The server answered ${status} without a reason`)];
}

/** A problem of the pages' own, in the server's form. */
export function said(message: string, remedy = ''): Problem {
  return { file: '', line: null, field: '', value: '', allowed: '', remedy, message };
}

const post = (path: string, body: unknown, signal?: AbortSignal): Promise<Response> =>
  fetch(path, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'Content-Type': 'application/json' },
    cache: 'no-store',
    credentials: 'same-origin',
    ...(signal ? { signal } : {}),
  });

async function post_bare<T>(path: string, body: unknown, signal?: AbortSignal): Promise<{ data?: T; error?: unknown; response: Response }> {
  const response = await post(path, body, signal);
  if (response.ok) return { data: (await response.json()) as T, response };
  return { error: await response.json().catch(() => null), response };
}

/** The same, where a file comes back. */
async function post_file(path: string, body: unknown, signal?: AbortSignal): Promise<{ data?: Blob; error?: unknown; response: Response }> {
  const response = await post(path, body, signal);
  if (response.ok) return { data: await response.blob(), response };
  return { error: await response.json().catch(() => null), response };
}

export const api = {
  health: () => answer(client.GET('/api/health')),
  fields: () => answer(client.GET('/api/fields')),
  examples: () => answer(client.GET('/api/examples')),
  access: (code: string) => answer(client.POST('/api/access', { body: { code } })),
  /** Asked at every move of a handle, so without the client's own steps, which cost milliseconds. */
  flight: (body: FlightRequest) => answer<Flight>(post_bare('/api/flight' satisfies keyof paths, body)),
  in_hand: (document: DesignDocument, readings: Readings, relative_sigma: number | null = null) =>
    answer(client.POST('/api/in-hand', { body: { ...document, readings, relative_sigma } })),
  shape: (document: DesignDocument, wishes: ShapeWishes) => answer(client.POST('/api/shape', { body: { ...document, wishes } })),
  form: (body: FormRequest) => answer<FormAnswer>(post_bare('/api/form', body)),
  reset: (body: ResetRequest) => answer<ResetAnswer>(post_bare('/api/form/reset', body)),
  /** Asked as an entry is typed. */
  spars: (body: SparsRequest) => answer<Spars>(post_bare('/api/bench/spars' satisfies keyof paths, body)),
  spars_of_csv: (csv: string, file: string, units: Profile) => answer(client.POST('/api/bench/spars/csv', { body: { csv, units, ...(file ? { file } : {}) } })),
  spars_as_csv: (body: SparsRequest) => answer(client.POST('/api/bench/spars/export', { body, parseAs: 'text' })),
  bench: (body: BenchQuestion) => answer<BenchAnswer>(post_bare('/api/bench', body)),
  rubber: (body: RubberQuestion) => answer<RubberAnswer>(post_bare('/api/rubber' satisfies keyof paths, body)),
  flex: (body: DesignDocument) => answer<FlexBlade>(post_bare('/api/flex' satisfies keyof paths, body)),
  pair: (body: PairQuestion) => answer<BuiltPair>(post_bare('/api/pair' satisfies keyof paths, body)),
  tolerances: (body: DesignDocument) => answer<ToleranceCard>(post_bare('/api/pair/tolerances' satisfies keyof paths, body)),
  wind: (body: DesignDocument & { today: Today; winder_ratio: number; meter?: Meter['meter']; breaking?: components['schemas']['WindBreaking'] }) => answer<WindAnswer>(post_bare('/api/wind' satisfies keyof paths, body, within(wind_ms))),
  /** Both may take a second or two, and can be given up by the signal. */
  verdict: (body: VerdictQuestion, signal?: AbortSignal) => answer<VerdictAnswer>(post_bare('/api/verdict' satisfies keyof paths, body, signal)),
  learn: (body: LearnQuestion, signal?: AbortSignal) => answer<LearnAnswer>(post_bare('/api/learn' satisfies keyof paths, body, signal)),
  fair_test_sheet: (body: SheetQuestion, signal?: AbortSignal) => answer<Blob>(post_file('/api/verdict/sheet' satisfies keyof paths, body, signal)),
  start_form: (body: FormWork) => answer<{ id: string; events: string }>(post_bare('/api/work' satisfies keyof paths, body)),
  start_work: (body: WorkRequest) => answer(client.POST('/api/work', { body })),
  stop_work: (id: string) => answer(client.DELETE('/api/work/{id}', { params: { path: { id } } })),
};
