/// <reference types="vitest/config" />
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';
import { offline_worker } from './scripts/offline';
import { floor_as_one_file } from './scripts/one_file';

// The address of a running `propwright open` while the pages are worked on: npm run dev.
const server = process.env.PROPWRIGHT_SERVER ?? 'http://127.0.0.1:8420';

export default defineConfig({
  plugins: [svelte(), floor_as_one_file(), offline_worker()],
  build: {
    target: 'es2022',
    // Every file is an own, cacheable file: the pages' content security policy forbids data: fonts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: {
    host: '127.0.0.1',
    // The server takes posts from its own address only.
    proxy: {
      '/api': {
        target: server,
        changeOrigin: true,
        headers: { origin: server },
      },
    },
  },
  test: {
    include: ['tests/**/*.test.ts'],
    environment: 'node',
  },
});
