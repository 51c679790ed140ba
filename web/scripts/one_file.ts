// The floor as one HTML file: scripts, styles and fonts stand in it, so that it opens from a phone's storage.
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { build, type Plugin } from 'vite';

type Bundle = Parameters<Extract<Plugin['generateBundle'], (...args: never[]) => unknown>>[1];

/** Puts the scripts and styles of a built page in the place of the tags that name them. */
function inlined(html: string, bundle: Bundle): string {
  let page = html;
  for (const [name, file] of Object.entries(bundle)) {
    const tag = new RegExp(`<(script|link)[^>]*(?:src|href)="[^"]*${name.replaceAll('.', '\\.')}"[^>]*>(</script>)?`);
    if (file.type === 'chunk') page = page.replace(tag, () => `<script type="module">${file.code.replaceAll('</script', '<\\/script')}</script>`);
    else if (name.endsWith('.css')) page = page.replace(tag, () => `<style>${String(file.source)}</style>`);
    else continue;
    delete bundle[name];
  }
  return page;
}

const into_the_page: Plugin = {
  name: 'into-the-page',
  enforce: 'post',
  generateBundle(_, bundle) {
    for (const file of Object.values(bundle)) {
      if (file.type === 'asset' && file.fileName.endsWith('.html')) file.source = inlined(String(file.source), bundle);
    }
  },
};

/** Builds floor.html beside the pages, once they are built. */
export function floor_as_one_file(): Plugin {
  let out = 'dist';
  return {
    name: 'floor-as-one-file',
    apply: 'build',
    configResolved: (config) => {
      out = config.build.outDir;
    },
    closeBundle: async () => {
      await build({
        configFile: false,
        logLevel: 'warn',
        publicDir: false,
        plugins: [svelte(), into_the_page],
        build: {
          target: 'es2022', outDir: out, emptyOutDir: false, assetsInlineLimit: Number.MAX_SAFE_INTEGER, cssCodeSplit: false,
          modulePreload: false, chunkSizeWarningLimit: 2000, rollupOptions: { input: 'floor.html', output: { inlineDynamicImports: true } },
        },
      });
    },
  };
}
