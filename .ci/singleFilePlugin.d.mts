import type { Plugin } from 'vite'

export const singleName: string
/** The page as one text: html, scripts and styles of the build, and the icon as SVG. */
export function singlePage(
  html: string,
  scripts: readonly string[],
  styles: readonly string[],
  iconSvg: string,
): string
export function singleFilePlugin(): Plugin
