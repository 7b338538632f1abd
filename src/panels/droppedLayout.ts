/** The one file among those dropped on the page that is a layout and no site: a list or a drawing, by its name. */
export function droppedLayout(dropped: Pick<DataTransfer, 'files'> | null): File | null {
  const files = Array.from(dropped?.files ?? [])
  return files.length === 1 && /\.(csv|tsv|txt|geojson)$/i.test(files[0].name) ? files[0] : null
}
