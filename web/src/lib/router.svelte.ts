// Places are addresses: /brief, /blade, /form, /bench, /floor, /verdict, /designs. The History API moves between them without
// loading the page again; the server answers every such address with the same page.

export const places = [
  { path: '/brief', name: 'Brief', title: 'Brief' },
  { path: '/blade', name: 'Blade', title: 'Blade' },
  { path: '/form', name: 'Form', title: 'Form' },
  { path: '/bench', name: 'Bench', title: 'Bench' },
  { path: '/floor', name: 'Floor', title: 'Floor' },
  { path: '/verdict', name: 'Verdict', title: 'Verdict' },
  { path: '/designs', name: 'Designs', title: 'Designs' },
] as const;

export type Path = (typeof places)[number]['path'];

function known(pathname: string): Path {
  const found = places.find((place) => pathname === place.path || pathname.startsWith(place.path + '/'));
  return found?.path ?? '/brief';
}

class Router {
  path = $state<Path>('/brief');
  query = $state.raw(new URLSearchParams());

  /** Reads the present address and follows the browser's own back and forward. */
  start(): void {
    const read = () => {
      this.path = known(location.pathname);
      this.query = new URLSearchParams(location.search);
    };
    addEventListener('popstate', read);
    read();
    if (!location.pathname.startsWith(this.path)) this.go(this.path, this.query, true);
  }

  /** Goes to a place; `replace` leaves no step in the browser's history. */
  go(path: Path, query: URLSearchParams = new URLSearchParams(), replace = false): void {
    const text = query.toString();
    const address = text ? `${path}?${text}` : path;
    if (replace) history.replaceState(null, '', address);
    else history.pushState(null, '', address);
    this.path = path;
    this.query = query;
    if (!replace) scrollTo(0, 0);
  }
}

export const router = new Router();

/** For `onclick` of a link to a place: takes a plain click, leaves the browser the others. */
export function follow(event: MouseEvent, path: Path, query?: URLSearchParams): void {
  if (event.defaultPrevented || event.button !== 0) return;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  router.go(path, query);
}
