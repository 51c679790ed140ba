// Long work in the server: started by a post, followed by its events, stopped by a delete.
import { api, Refused } from '../api/client';
import type { FormDone, FormWork } from '../api/form';
import type { PacketDone, Problem, Sensitivities, Spread, WorkRequest } from '../api/types';

type Results = { spread: Spread; sensitivities: Sensitivities; packet: PacketDone };
type Started = { id: string; events: string };

export type RunningWork<T> = {
  /** Null when it was stopped, failed, or the program is gone: what the pages show then stays. */
  result: Promise<T | null>;
  stop: () => void;
};

export type WorkEvents = {
  progress?: (share: number, seconds_left: number | null) => void;
  failed?: (problems: Problem[]) => void;
};

/** Starts work and follows it to its end. */
export function run_work<K extends keyof Results>(request: WorkRequest & { kind: K }, events: WorkEvents = {}): RunningWork<Results[K]> {
  return follow_work(api.start_work(request), events);
}

/** The same for one file of the form. */
export function run_form(request: FormWork, events: WorkEvents = {}): RunningWork<FormDone> {
  return follow_work(api.start_form(request), events);
}

export type BenchPages = WorkRequest & { kind: 'bench' | 'targets' };

/** The same for the bench's pages: of a batch of spars, or the targets of a replacement blade. */
export function run_bench_pages(request: BenchPages, events: WorkEvents = {}): RunningWork<FormDone> {
  return follow_work(api.start_work(request), events);
}

function follow_work<T>(posted: Promise<{ body: Started }>, events: WorkEvents): RunningWork<T> {
  let stopped = false;
  let source: EventSource | null = null;
  let finish: (value: T | null) => void = () => {};
  const result = new Promise<T | null>((resolve) => (finish = resolve));
  const told = <D>(event: Event) => JSON.parse((event as MessageEvent<string>).data) as D;
  const cancel = (id: string) => void api.stop_work(id).catch(() => {});

  const started = posted.then(
    ({ body }) => body,
    (error: unknown) => {
      if (error instanceof Refused) events.failed?.(error.problems);
      return null;
    },
  );

  const end = (value: T | null) => {
    source?.close();
    finish(value);
  };

  void started.then((work) => {
    if (!work) return end(null);
    if (stopped) return cancel(work.id);
    source = new EventSource(work.events);
    source.addEventListener('progress', (event) => {
      const { share, seconds_left } = told<{ share: number; seconds_left: number | null }>(event);
      events.progress?.(share, seconds_left);
    });
    source.addEventListener('done', (event) => end(told<{ result: T }>(event).result));
    source.addEventListener('stopped', () => end(null));
    source.addEventListener('failed', (event) => {
      events.failed?.(told<{ problems: Problem[] }>(event).problems);
      end(null);
    });
    source.onerror = () => {
      if (source?.readyState === EventSource.CLOSED) end(null);
    };
  });

  return {
    result,
    stop: () => {
      if (stopped) return;
      stopped = true;
      const running = source !== null;
      end(null);
      if (running) void started.then((work) => work && cancel(work.id));
    },
  };
}
