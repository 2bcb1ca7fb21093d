import react from '@vitejs/plugin-react';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

// The renderer's build, served alike by the app:// protocol and the loopback host.
export default defineConfig({
  root: fileURLToPath(new URL('renderer/', import.meta.url)),
  base: './',
  publicDir: false,
  plugins: [react()],
  build: {
    outDir: fileURLToPath(new URL('dist/renderer/', import.meta.url)),
    emptyOutDir: true,
    target: 'chrome130',
    // data: addresses would need a hole in the content security policy.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 2000,
    reportCompressedSize: false,
  },
});
