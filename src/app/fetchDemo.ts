import { fail, type Result } from '../base/result.ts'
import { openSite } from '../files/openSite.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import type { DemoSite } from './demoSite.ts'

/** Fetches and opens a demo site that lies beside the page; what keeps it from coming is told with its name. */
export async function fetchDemo(
  { address, file }: Pick<DemoSite, 'address' | 'file'>,
  fetchFrom: (address: string) => Promise<Response>,
): Promise<Result<Site, readonly Problem[]>> {
  const missing = (reason: string) => fail([problem('file.missing', { reason }, { file })])
  try {
    const response = await fetchFrom(address)
    if (!response.ok) return missing(`it is not beside the page (answer ${response.status})`)
    return openSite(new Uint8Array(await response.arrayBuffer()), file)
  } catch (error) {
    return missing(error instanceof Error ? error.message : String(error))
  }
}
