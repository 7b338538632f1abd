import { siteFileName } from './siteFileName.ts'

/** A file name beside that of the site: `Warehouse Roof 2 tables.csv`. */
export function exportFileName(siteName: string, what: string, ending: string): string {
  return `${siteFileName(siteName).replace(/\.json$/, '')} ${what}.${ending}`
}
