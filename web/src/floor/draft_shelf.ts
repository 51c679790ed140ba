// The flight in hand, and the one laid aside meanwhile, outlast a reload: each tab has its own, and a tab that is opened anew
// goes on with the last ones.
import { blank, type Draft } from './draft';
import { new_id } from './flight';
import { phase, read_watch } from './stopwatch';

const keys = { in_hand: 'propwright-floor-draft', parked: 'propwright-floor-parked' };
type Which = keyof typeof keys;

/** Undefined: this storage tells nothing; null: none is there. */
function read(storage: () => Storage, which: Which): Draft | null | undefined {
  try {
    const text = storage().getItem(keys[which]);
    if (text === null) return undefined;
    const draft = JSON.parse(text) as Draft | null;
    return draft?.id ? { ...blank(draft.id), ...draft, watch: read_watch(draft.watch) } : null;
  } catch {
    return undefined;
  }
}

function write(storage: () => Storage, which: Which, draft: Draft | null): void {
  try {
    storage().setItem(keys[which], JSON.stringify(draft));
  } catch {
    // Storage off or full: it lasts as long as the page.
  }
}

/** Null: none was in hand. One that another tab may still have in hand, and that is not in the air, is another flight here. */
export function kept_draft(which: Which = 'in_hand'): Draft | null {
  const own = read(() => sessionStorage, which);
  if (own !== undefined) return own;
  const last = read(() => localStorage, which) ?? null;
  return last && last.taken === null && last.base === null && phase(last.watch) === 'ready' ? { ...last, id: new_id(Date.now()) } : last;
}

export function keep_draft(draft: Draft | null, which: Which = 'in_hand'): void {
  write(() => sessionStorage, which, draft);
  write(() => localStorage, which, draft);
}
