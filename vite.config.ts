import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

export default defineConfig({
  root: 'src/web',
  plugins: [react()],
  // WebAssembly and fonts stay files of their own: the page's policy lets no script read data addresses.
  build: { assetsInlineLimit: 0, target: 'es2023', chunkSizeWarningLimit: 1500 },
  worker: { format: 'es' },
})
