// Finds a Chromium for the browser tests: CHROMIUM_PATH first, then the places systems put one.
import { existsSync } from 'node:fs'

const usualPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
]

/** @returns {string | undefined} path of an installed Chromium, or undefined when there is none */
export function findChromium() {
  const wished = process.env['CHROMIUM_PATH']
  if (wished) return wished
  return usualPlaces.find((place) => existsSync(place))
}
