/** What the list of demo sites says of one of them; drawn out of its file when the page is built. */
export interface DemoWords {
  readonly name: string
  /** One sentence about its size. */
  readonly about: string
}

/** A demo site that comes with the page. Its file is fetched when it is opened, not before. */
export interface DemoSite extends DemoWords {
  /** Name of the file in demo-data/. */
  readonly file: string
  /** Where the page can get the file. */
  readonly address: string
}
