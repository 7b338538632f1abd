// A plugin of the build of one file: the page with its script, its styles and its icon in it, under a content
// security policy that allows exactly those by their hashes. Only that file is written.
import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'

export const singleName = 'groundweave.html'
const icon = fileURLToPath(new URL('../src/app/public/icon.svg', import.meta.url))
/** Modules that fetch from beside the page, and those that have it in them. */
const inline = { './spawnEngine.ts': 'spawnEngineInline.ts', './demoFiles.ts': 'demoFilesInline.ts' }

const hashOf = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`

/** The policy of the one file: nothing may be asked of anywhere, not even of files beside it. */
export function singlePolicy(script, style) {
  return [
    `default-src 'none'`,
    `script-src ${hashOf(script)}`,
    `style-src ${hashOf(style)}`,
    `img-src data: blob:`,
    `worker-src blob:`,
    `base-uri 'none'`,
    `form-action 'none'`,
  ].join('; ')
}

/** The page as one text, from what the build has put beside it. */
export function singlePage(html, scripts, styles, iconSvg) {
  // neither text may end its own element: the backslash means nothing in a script's strings
  const script = scripts.join('\n').replaceAll('</script', '<\\/script').replaceAll('<!--', '<\\!--')
  const style = styles.join('\n').replaceAll('</style', '<\\/style')
  const bare = html
    .replace(/<link\b[^>]*rel="(?:manifest|apple-touch-icon|stylesheet|icon)"[^>]*>\s*/g, '')
    .replace(/<script\b[^>]*src="[^"]*"[^>]*><\/script>\s*/g, '')
  const policy = `<meta http-equiv="Content-Security-Policy" content="${singlePolicy(script, style)}" />`
  const image = `<link rel="icon" type="image/svg+xml" href="data:image/svg+xml,${encodeURIComponent(iconSvg)}" />`
  return bare
    .replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, () => policy)
    .replace('</head>', () => `${image}\n<style>${style}</style>\n</head>`)
    .replace('</body>', () => `<script type="module">${script}</script>\n</body>`)
}

export function singleFilePlugin() {
  return {
    name: 'groundweave-single-file',
    enforce: 'pre',
    resolveId(source, importer) {
      const other = inline[source]
      if (other && importer?.includes('/src/app/'))
        return this.resolve(`./${other}`, importer, { skipSelf: true })
    },
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        const all = Object.values(bundle)
        const html = all.find(({ fileName }) => fileName.endsWith('.html'))
        const scripts = all.filter(({ type }) => type === 'chunk').map(({ code }) => code)
        const styles = all
          .filter(({ fileName }) => fileName.endsWith('.css'))
          .map(({ source }) => String(source))
        const others = all.filter(
          ({ type, fileName }) => type !== 'chunk' && !/\.(html|css|map)$/.test(fileName),
        )
        if (!html || scripts.length !== 1 || others.length > 0) {
          const names = all.map(({ fileName }) => fileName).join(', ')
          throw new Error(`The program does not come as one script and its styles: ${names}`)
        }
        const source = singlePage(String(html.source), scripts, styles, readFileSync(icon, 'utf8'))
        for (const { fileName } of all) delete bundle[fileName]
        this.emitFile({ type: 'asset', fileName: singleName, source })
      },
    },
  }
}
