import type { Plugin } from 'vite'

/** The text of the service worker for a folder of built files. */
export function offlineWorker(folder: string): string
export function offlinePlugin(): Plugin
