import { escapedXml } from '../../base/escapedXml.ts'
import { shortCaution } from '../../text/cautions.ts'
import { reportTexts } from '../../text/reportText.ts'
import { unbrokenPieces } from '../../text/unbrokenPieces.ts'
import { widthOf, type ReportBlock, type ReportSection } from './reportBlocks.ts'

export interface ReportPage {
  /** Name of the site, for the title of the page. */
  readonly title: string
  readonly head: readonly (readonly [string, string])[]
  readonly sections: readonly ReportSection[]
}

/** Nothing is loaded, and nothing runs, whatever a site's names say. */
const policy = "default-src 'none'; style-src 'unsafe-inline'"

const style = `
@page { size: A4; margin: 14mm 12mm 16mm }
body { max-width: 186mm; margin: 0 auto; padding: 6mm; background: #fff; color: #000; color-scheme: light;
  font: 9.5pt/1.4 "Liberation Sans", Arial, Helvetica, sans-serif }
h1 { font-size: 1.7em } h2 { margin: 1.2em 0 .4em; padding-bottom: .15em; border-bottom: 1pt solid #000; font-size: 1.25em }
h3 { margin: .9em 0 .4em; font-size: 1.1em } h1, h2, h3, caption, figcaption { break-after: avoid }
p { margin: .25em 0; overflow-wrap: anywhere } .caution { padding: .4em .7em; border: 1pt solid #000 }
ul { margin: .25em 0; padding-inline-start: 1.4em; list-style: square } ul.second { padding-inline-start: 2.8em; list-style: "– "; font-size: .94em }
dl { display: grid; gap: .15em 1.5em; margin: .4em 0 } dl.facts { grid-template-columns: 1fr 1fr }
dl > div { display: grid; grid-template-columns: 9em 1fr; gap: .5em; break-inside: avoid }
dt { font-weight: 600 } dd { margin: 0; overflow-wrap: anywhere }
table { width: 100%; margin: .5em 0 .9em; border-collapse: collapse; table-layout: fixed; font-size: .88em; line-height: 1.3 }
caption, figcaption { padding: .3em 0; font-weight: 600; text-align: start } thead { display: table-header-group } tr { break-inside: avoid }
th, td { padding: .2em .4em; border-bottom: .5pt solid #777; overflow-wrap: anywhere; text-align: start; vertical-align: top }
th { border-bottom: 1pt solid #000; overflow-wrap: break-word } .number { text-align: end; font-variant-numeric: tabular-nums }
.attention td { background: #eee; font-weight: 600 } .struck td { text-decoration: line-through }
figure { margin: .8em 0 .4em; break-inside: avoid } svg { display: block; max-width: 100%; height: auto; margin: .3em 0 } .key { font-size: .88em }
.signing > div { display: grid; grid-template-columns: 10em 1fr 12em; gap: .8em; align-items: end; padding-top: 3em; break-inside: avoid }
.whole { white-space: nowrap } .rule { border-bottom: .75pt solid #000 }
`

/**
 * A report as one page of HTML that can be opened and printed anywhere: no scripts, no request, every text escaped. Its plots are
 * those of `reportSections`; a map takes a screen to draw and is not in it.
 */
export function* reportHtml({ title, head, sections }: ReportPage): Generator<string, void> {
  yield (
    `<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n` +
    `<meta http-equiv="Content-Security-Policy" content="${escapedXml(policy)}">\n` +
    `<meta name="viewport" content="width=device-width">\n<title>${escapedXml(`${reportTexts.title}: ${title}`)}</title>\n` +
    `<style>${style}</style>\n</head>\n<body>\n<h1>${escapedXml(reportTexts.title)}</h1>\n` +
    `${factsHtml(head, '')}<p class="caution">${escapedXml(shortCaution())}</p>\n`
  )
  for (const { title: name, blocks } of sections) {
    yield `<section>\n<h2>${escapedXml(name)}</h2>\n`
    for (const block of blocks) yield blockHtml(block)
    yield '</section>\n'
  }
  yield '</body>\n</html>\n'
}

function blockHtml(block: ReportBlock): string {
  switch (block.form) {
    case 'heading':
      return `<h3>${escapedXml(block.text)}</h3>\n`
    case 'lines':
      return block.lines.map(({ text, level }) => lineHtml(text, level)).join('')
    case 'facts':
      return factsHtml(
        block.facts.map(({ term, value }) => [term, value] as const),
        ' class="facts"',
      )
    case 'table':
      return tableHtml(block)
    case 'plot':
      return (
        `<figure>\n<figcaption dir="auto">${said(block.title)}</figcaption>\n<p>${said(block.said)}</p>\n` +
        `${block.svg}\n<p class="key">${said(block.key)}</p>\n</figure>\n`
      )
    case 'maps':
      return `<p>${escapedXml(reportTexts.mapNone)}</p>\n`
    case 'signing':
      return (
        '<div class="signing">\n' +
        block.roles
          .map(
            (role) =>
              `<div><span>${escapedXml(role)}</span><span class="rule"></span><span>${escapedXml(reportTexts.nameDateSignature)}</span></div>\n`,
          )
          .join('') +
        '</div>\n'
      )
  }
}

/** Text whose lines do not end within a label or a value. */
function said(text: string): string {
  return unbrokenPieces(text)
    .map(({ text: piece, isWhole }) =>
      isWhole ? `<span class="whole">${escapedXml(piece)}</span>` : escapedXml(piece),
    )
    .join('')
}

function lineHtml(text: string, level: number): string {
  const words = said(text)
  if (level === 0) return `<p dir="auto">${words}</p>\n`
  return `<ul${level === 1 ? '' : ' class="second"'}><li dir="auto">${words}</li></ul>\n`
}

function factsHtml(pairs: readonly (readonly [string, string])[], more: string): string {
  const rows = pairs.map(
    ([term, value]) => `<div><dt>${escapedXml(term)}</dt><dd dir="auto">${escapedXml(value)}</dd></div>\n`,
  )
  return `<dl${more}>\n${rows.join('')}</dl>\n`
}

function tableHtml({ caption, columns, rows }: Extract<ReportBlock, { form: 'table' }>): string {
  const numberOf = (k: number) => (columns[k]?.isNumber === true ? ' class="number"' : '')
  const widths = columns.map((column) => {
    const width = widthOf(column)
    return width === null ? '<col>' : `<col style="width:${width}">`
  })
  const heads = columns.map(({ title }, k) => `<th scope="col"${numberOf(k)}>${escapedXml(title)}</th>`)
  const lines = rows.map(
    ({ cells, mark }) =>
      `<tr${mark === undefined ? '' : ` class="${mark}"`}>` +
      cells.map((cell, k) => `<td${numberOf(k)} dir="auto">${said(cell)}</td>`).join('') +
      '</tr>\n',
  )
  const none = `<tr><td colspan="${columns.length}">${escapedXml(reportTexts.none)}</td></tr>\n`
  return (
    `<table>\n<caption dir="auto">${escapedXml(caption)}</caption>\n<colgroup>${widths.join('')}</colgroup>\n` +
    `<thead><tr>${heads.join('')}</tr></thead>\n<tbody>\n${lines.length === 0 ? none : lines.join('')}</tbody>\n</table>\n`
  )
}
