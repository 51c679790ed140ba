// How long a change takes from the hand to the drawing, as performance measures for the browser tests:
// `handle-to-redraw` ends when the new drawing is laid out, `handle-to-frame` after the frame with it.
import type { DesignDocument } from '../api/types';
import { design } from '../store/design.svelte';

const kept_at_most = 2000;
const changed_at = new WeakMap<DesignDocument, number>();

/** Notes the instant of every change; returns how to stop. */
export function watch_pace(): () => void {
  return design.on_change((document) => changed_at.set(document, performance.now()));
}

function measure(name: string, start: number): void {
  if (performance.getEntriesByName(name).length >= kept_at_most) performance.clearMeasures(name);
  performance.measure(name, { start, end: performance.now() });
}

/** Called when the page has been updated for the answer to this document. */
export function drawn(document: DesignDocument, page: HTMLElement): void {
  const start = changed_at.get(document);
  if (start === undefined) return;
  changed_at.delete(document);
  // Asking for a size makes the browser finish style and layout now, so that they are counted.
  page.getBoundingClientRect();
  measure('handle-to-redraw', start);
  requestAnimationFrame(() => {
    const channel = new MessageChannel();
    channel.port1.onmessage = () => measure('handle-to-frame', start);
    channel.port2.postMessage(null);
  });
}
