// Long work in the server: started by a post, followed by its events, stopped by a delete.
import { call } from '../api/client';

export type Work = { stop: () => void };
export type RunningWork<T> = Work & { id: Promise<string | null>; result: Promise<T | null> };

type Started = { id: string; events: string };

/**
 * Starts work and follows it. `result` is null when it was stopped, failed, or the program is gone:
 * what the pages show then stays as it was.
 */
export function run_work<T>(
  request: { kind: string; [name: string]: unknown },
  progress: (share: number, seconds_left: number | null) => void,
  failed: (error: unknown) => void = () => {},
): RunningWork<T> {
  let stopped = false;
  let source: EventSource | null = null;
  let finish: (value: T | null) => void = () => {};
  const result = new Promise<T | null>((resolve) => (finish = resolve));

  const started = call<Started>('/api/work', { method: 'POST', body: request }).then(
    ({ body }) => body,
    (error: unknown) => {
      failed(error);
      return null;
    },
  );

  const cancel = (id: string) => void call(`/api/work/${id}`, { method: 'DELETE' }).catch(() => {});

  void started.then((work) => {
    if (!work) return finish(null);
    if (stopped) return cancel(work.id);
    source = new EventSource(work.events);
    const end = (value: T | null) => {
      source?.close();
      finish(value);
    };
    source.addEventListener('progress', (event) => {
      const told = JSON.parse((event as MessageEvent<string>).data) as { share: number; seconds_left?: number | null };
      progress(told.share, told.seconds_left ?? null);
    });
    source.addEventListener('done', (event) => {
      const told = JSON.parse((event as MessageEvent<string>).data) as { result: T };
      end(told.result);
    });
    source.addEventListener('stopped', () => end(null));
    source.addEventListener('failed', (event) => {
      failed(JSON.parse((event as MessageEvent<string>).data));
      end(null);
    });
    source.onerror = () => {
      if (source?.readyState === EventSource.CLOSED) end(null);
    };
  });

  return {
    id: started.then((work) => work?.id ?? null),
    result,
    stop: () => {
      if (stopped) return;
      stopped = true;
      source?.close();
      finish(null);
      if (source) void started.then((work) => work && cancel(work.id));
    },
  };
}
