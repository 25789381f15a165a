import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';

/** The screens: built from src/web into dist/web, served by the program itself. */
export default defineConfig({
  root: 'src/web',
  base: '/',
  plugins: [react()],
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
