// The hand on a handle: how far it has moved since the press, in pixels of the drawing, and the keys.

export type HandleOptions = {
  /** At the press. The answer is told the way since then, right and down positive, in the svg's units. */
  grab: () => (dx: number, dy: number) => void;
  /** Arrow keys: right and up +1, ten times that with Shift or the page keys. */
  step: (count: number) => void;
  settle: () => void;
};

/** Steps a key stands for; 0 for every other key. */
export function steps_of_key(key: string, shift: boolean): number {
  const size = shift ? 10 : 1;
  switch (key) {
    case 'ArrowUp':
    case 'ArrowRight':
      return size;
    case 'ArrowDown':
    case 'ArrowLeft':
      return -size;
    case 'PageUp':
      return 10;
    case 'PageDown':
      return -10;
    default:
      return 0;
  }
}

export function handle(node: SVGGElement, first: HandleOptions) {
  let options = first;
  let moved: ((dx: number, dy: number) => void) | null = null;
  let from = { x: 0, y: 0 };
  let scale = 1;

  function down(event: PointerEvent): void {
    if (event.button !== 0) return;
    // Browser zoom of the svg, if any: pointer pixels to drawing units.
    scale = 1 / (node.ownerSVGElement?.getScreenCTM()?.a || 1);
    from = { x: event.clientX, y: event.clientY };
    moved = options.grab();
    node.setPointerCapture(event.pointerId);
    node.focus({ preventScroll: true });
    event.preventDefault();
    event.stopPropagation();
  }
  function move(event: PointerEvent): void {
    if (!moved) return;
    event.stopPropagation();
    moved((event.clientX - from.x) * scale, (event.clientY - from.y) * scale);
  }
  function up(): void {
    if (!moved) return;
    moved = null;
    options.settle();
  }
  function key(event: KeyboardEvent): void {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const count = steps_of_key(event.key, event.shiftKey);
    if (count === 0) return;
    event.preventDefault();
    event.stopPropagation();
    options.step(count);
  }
  function released(event: KeyboardEvent): void {
    if (steps_of_key(event.key, false) !== 0) options.settle();
  }

  node.addEventListener('pointerdown', down);
  node.addEventListener('pointermove', move);
  node.addEventListener('pointerup', up);
  node.addEventListener('pointercancel', up);
  node.addEventListener('keydown', key);
  node.addEventListener('keyup', released);
  return {
    update(next: HandleOptions) {
      options = next;
    },
    destroy() {
      node.removeEventListener('pointerdown', down);
      node.removeEventListener('pointermove', move);
      node.removeEventListener('pointerup', up);
      node.removeEventListener('pointercancel', up);
      node.removeEventListener('keydown', key);
      node.removeEventListener('keyup', released);
    },
  };
}
