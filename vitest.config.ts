import { svelte } from '@sveltejs/vite-plugin-svelte'
import { playwright } from '@vitest/browser-playwright'
import { defineConfig } from 'vitest/config'
import { findChromium, findDownloadedChromium } from './.ci/chromium.mjs'

const chromiumFlags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

const executablePath = findChromium() ?? (await findDownloadedChromium())

export default defineConfig({
  test: {
    projects: [
      {
        plugins: [svelte()],
        test: {
          name: 'node',
          environment: 'node',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/**/*.browser.test.ts'],
          testTimeout: 60_000,
        },
      },
      {
        plugins: [svelte()],
        optimizeDeps: { include: ['konva', 'd3', 'axe-core', 'vitest-browser-svelte'] },
        test: {
          name: 'component',
          include: ['tests/**/*.browser.test.ts'],
          browser: {
            enabled: true,
            headless: true,
            screenshotFailures: false,
            api: { host: '127.0.0.1' },
            provider: playwright({
              launchOptions: { executablePath, args: chromiumFlags },
            }),
            instances: [{ browser: 'chromium', viewport: { width: 1280, height: 800 } }],
          },
        },
      },
    ],
  },
})
