// Talking to the server the pages came from, and to nobody else.
import type {
  DesignDocument, DesignSummary, Example, FieldInfo, Flight, Health, Problem, RecordKind, RecordPage,
} from './types';

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

export type Answer<T> = { body: T; etag: string | null; status: number; location: string | null };

type Options = { method?: string; body?: unknown; etag?: string | null; signal?: AbortSignal };

export async function call<T>(path: string, options: Options = {}): Promise<Answer<T>> {
  const headers: Record<string, string> = { Accept: 'application/json' };
  if (options.body !== undefined) headers['Content-Type'] = 'application/json';
  if (options.etag) headers['If-Match'] = options.etag;
  let response: Response;
  try {
    response = await fetch(path, {
      method: options.method ?? 'GET',
      headers,
      body: options.body === undefined ? null : JSON.stringify(options.body),
      signal: options.signal ?? null,
      cache: 'no-store',
      credentials: 'same-origin',
    });
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') throw error;
    throw new Gone('The program does not answer.');
  }
  const text = await response.text();
  let body: unknown = null;
  try {
    body = text === '' ? null : JSON.parse(text);
  } catch {
    body = null;
  }
  if (!response.ok) throw new Refused(response.status, problems_in(body, response.status), body);
  return {
    body: body as T,
    etag: response.headers.get('ETag'),
    status: response.status,
    location: response.headers.get('Location'),
  };
}

function problems_in(body: unknown, status: number): Problem[] {
  const list = (body as { problems?: Problem[] } | null)?.problems;
  if (Array.isArray(list) && list.length > 0) return list;
  return [{ field: '', value: '', allowed: '', remedy: '', message: `The server answered ${status} without a reason.` }];
}

export const api = {
  health: () => call<Health>('/api/health'),
  fields: () => call<{ fields: FieldInfo[] }>('/api/fields'),
  examples: () => call<Example[]>('/api/examples'),
  flight: (document: DesignDocument) => call<Flight>('/api/flight', { method: 'POST', body: document }),
  designs: (query: URLSearchParams) => call<RecordPage<DesignSummary>>(`/api/designs?${query}`),
  list: <T>(kind: RecordKind, query: URLSearchParams) => call<RecordPage<T>>(`/api/${kind}?${query}`),
  get: <T>(kind: RecordKind, id: string) => call<T>(`/api/${kind}/${encodeURIComponent(id)}`),
};
