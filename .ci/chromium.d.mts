export const chromiumFlags: string[]
export function findChromium(): string | undefined
export function findDownloadedChromium(): Promise<string | undefined>
