// The worker that lets the Floor load again without the program (docs/floor.md): a list of the built files, and a
// version that changes with any of them.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import type { Plugin } from 'vite';

const worker_name = 'worker.js';

function files_under(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? files_under(path) : [path];
  });
}

/** Writes worker.js beside the pages, once all of them are built; stands after the plugins that build more. */
export function offline_worker(): Plugin {
  let out = 'dist';
  let root = '.';
  return {
    name: 'offline-worker',
    apply: 'build',
    configResolved: (config) => {
      out = config.build.outDir;
      root = config.root;
    },
    closeBundle: {
      sequential: true,
      order: 'post',
      handler: () => {
        const source = readFileSync(join(root, 'scripts', worker_name), 'utf8');
        const files = files_under(out).filter((path) => !path.endsWith(worker_name)).sort();
        const hash = createHash('sha256').update(source);
        for (const path of files) hash.update(path.slice(out.length)).update(readFileSync(path));
        const paths = files.map((path) => `/${relative(out, path).split(sep).join('/')}`);
        const text = source.replace('__VERSION__', hash.digest('hex').slice(0, 16)).replace("['__FILES__']", JSON.stringify(paths));
        writeFileSync(join(out, worker_name), text);
      },
    },
  };
}
