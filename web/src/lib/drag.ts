// Handles in drawings: pointer and keyboard in one place. The drawing says where the pointer is in its
// own units; the handle says what that means.

export type DragOptions = {
  /** The pointer moved to this place, in the units of the drawing's viewBox. */
  move: (x: number, y: number) => void;
  /** The hand left the handle. */
  end?: () => void;
  /** Arrow keys: +1 or -1 (right and up are +1), ten times that with Shift or the page keys. */
  step?: (count: number) => void;
};

/** Svelte action for an element inside an svg. */
export function drag(node: SVGElement, options: DragOptions) {
  let held = false;
  let from_grip = { x: 0, y: 0 };

  function place(event: PointerEvent): { x: number; y: number } | null {
    const svg = node.ownerSVGElement;
    const matrix = svg?.getScreenCTM();
    if (!svg || !matrix) return null;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    return { x: point.x, y: point.y };
  }

  function down(event: PointerEvent): void {
    if (event.button !== 0) return;
    const at = place(event);
    if (!at) return;
    // The handle does not jump under the finger: the offset to its middle is kept.
    const box = (node as SVGGraphicsElement).getBBox();
    from_grip = { x: at.x - (box.x + box.width / 2), y: at.y - (box.y + box.height / 2) };
    held = true;
    node.setPointerCapture(event.pointerId);
    node.focus();
    event.preventDefault();
  }

  function move(event: PointerEvent): void {
    if (!held) return;
    const at = place(event);
    if (at) options.move(at.x - from_grip.x, at.y - from_grip.y);
  }

  function up(): void {
    if (!held) return;
    held = false;
    options.end?.();
  }

  function key(event: KeyboardEvent): void {
    const large = event.shiftKey ? 10 : 1;
    const counts: Record<string, number> = {
      ArrowUp: large, ArrowRight: large, ArrowDown: -large, ArrowLeft: -large, PageUp: 10, PageDown: -10,
    };
    const count = counts[event.key];
    if (count === undefined || !options.step) return;
    event.preventDefault();
    options.step(count);
  }

  node.addEventListener('pointerdown', down);
  node.addEventListener('pointermove', move);
  node.addEventListener('pointerup', up);
  node.addEventListener('pointercancel', up);
  node.addEventListener('keydown', key);
  node.addEventListener('keyup', () => options.end?.());
  return {
    update(next: DragOptions) {
      options = next;
    },
    destroy() {
      node.removeEventListener('pointerdown', down);
      node.removeEventListener('pointermove', move);
      node.removeEventListener('pointerup', up);
      node.removeEventListener('pointercancel', up);
      node.removeEventListener('keydown', key);
    },
  };
}
