import react from '@vitejs/plugin-react';
import { build, defineConfig, type Plugin } from 'vite';

/** The reader's recount: one classic script that a report carries inside itself, built after the screens, beside them. */
const reader = (): Plugin => ({
  name: 'reader-of-reports',
  apply: 'build',
  async closeBundle() {
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        outDir: 'dist/reader',
        emptyOutDir: true,
        target: 'es2022',
        lib: {
          entry: 'src/web/reader/reader.ts',
          formats: ['iife'],
          name: 'recount',
          fileName: () => 'recount.js',
        },
      },
    });
  },
});

/** The screens: built from src/web into dist/web, served by the program itself. */
export default defineConfig({
  root: 'src/web',
  base: '/',
  plugins: [react(), reader()],
  build: {
    outDir: '../../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    // Fonts stay files of their own: pages may forbid data: addresses, and a cached font is not sent twice.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: {
    host: '127.0.0.1',
    port: 5873,
    proxy: { '/api': 'http://127.0.0.1:7319' },
  },
});
