// The flight in hand outlasts a reload: each tab has its own, and a tab that is opened anew goes on with the last one.
import { blank, type Draft } from './draft';
import { new_id } from './flight';
import { phase, read_watch } from './stopwatch';

const key = 'propwright-floor-draft';

function read(storage: () => Storage): Draft | null {
  try {
    const draft = JSON.parse(storage().getItem(key) ?? 'null') as Draft | null;
    return draft?.id ? { ...blank(draft.id), ...draft, watch: read_watch(draft.watch) } : null;
  } catch {
    return null;
  }
}

function write(storage: () => Storage, draft: Draft): void {
  try {
    storage().setItem(key, JSON.stringify(draft));
  } catch {
    // Storage off or full: it lasts as long as the page.
  }
}

/** Null: none was in hand. One that another tab may still have in hand, and that is not in the air, is another flight here. */
export function kept_draft(): Draft | null {
  const own = read(() => sessionStorage);
  if (own) return own;
  const last = read(() => localStorage);
  return last && last.taken === null && last.base === null && phase(last.watch) === 'ready' ? { ...last, id: new_id(Date.now()) } : last;
}

export function keep_draft(draft: Draft): void {
  write(() => sessionStorage, draft);
  write(() => localStorage, draft);
}
