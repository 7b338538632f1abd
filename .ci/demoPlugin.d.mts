import type { Plugin } from 'vite'

export function demoPlugin(): Plugin
