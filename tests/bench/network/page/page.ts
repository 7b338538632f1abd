// Fetches the site that is served beside the page and leaves all work to a worker, as the program does.
const parameters = new URLSearchParams(location.search)
const bytes = await (await fetch('site.json')).arrayBuffer()
const worker = new Worker(new URL('./benchWorker.ts', import.meta.url), { type: 'module' })
const answer = new Promise<unknown>((resolve, reject) => {
  worker.onmessage = ({ data }) => resolve(data)
  worker.onerror = ({ message }) => reject(new Error(message))
})
worker.postMessage({ bytes, rounds: Number(parameters.get('rounds')) }, [bytes])
Object.assign(window, { benchAnswer: answer })
