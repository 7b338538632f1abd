import { svelte } from '@sveltejs/vite-plugin-svelte'
import { playwright } from '@vitest/browser-playwright'
import { defineConfig } from 'vitest/config'
import { chromiumFlags, findChromium, findDownloadedChromium } from './.ci/chromium.mjs'
import { demoPlugin } from './.ci/demoPlugin.mjs'

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
          exclude: ['tests/**/*.browser.test.ts', 'tests/**/*.program.test.ts'],
          testTimeout: 60_000,
        },
      },
      {
        plugins: [svelte(), demoPlugin()],
        optimizeDeps: { include: ['konva', 'd3', 'zod', 'papaparse', 'axe-core', 'vitest-browser-svelte'] },
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
      {
        // The built program in a browser of its own, one file after the other: two cores are busy with that.
        test: {
          name: 'program',
          environment: 'node',
          include: ['tests/program/**/*.program.test.ts'],
          globalSetup: ['tests/program/buildOnce.ts'],
          fileParallelism: false,
          sequence: { groupOrder: 1 },
          testTimeout: 60_000,
          hookTimeout: 60_000,
        },
      },
    ],
  },
})
