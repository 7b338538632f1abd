// One process at a time through a piece of work, across processes, by a lock file that its holder keeps fresh.
import { readFileSync, renameSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { setTimeout as sleep } from 'node:timers/promises'

const freshMs = 2_000
const staleMs = 30_000

function readIfThere(path) {
  try {
    return { owner: readFileSync(path, 'utf8'), ageMs: Date.now() - statSync(path).mtimeMs }
  } catch (error) {
    if (error.code === 'ENOENT') return undefined
    throw error
  }
}

function tryTake(path, owner) {
  try {
    writeFileSync(path, owner, { flag: 'wx' })
    return true
  } catch (error) {
    if (error.code === 'EEXIST') return false
    throw error
  }
}

// A holder that died leaves its file behind. Renaming decides which of several waiters clears it away; a file
// that changed hands between the look and the rename is put back.
function clearAway(path, seen) {
  const aside = `${path}.${process.pid}`
  try {
    renameSync(path, aside)
  } catch {
    return
  }
  if (readFileSync(aside, 'utf8') !== seen) tryTake(path, readFileSync(aside, 'utf8'))
  rmSync(aside, { force: true })
}

/** Runs `work` while this process alone holds `path`; `onWait` is called once if another one has it. */
export async function onlyOne(path, work, onWait) {
  const owner = `${process.pid} ${Date.now()} ${process.hrtime.bigint()}`
  let told = false
  while (!tryTake(path, owner)) {
    const holder = readIfThere(path)
    if (holder && holder.ageMs > staleMs) clearAway(path, holder.owner)
    else {
      if (!told) onWait()
      told = true
      await sleep(250)
    }
  }
  const release = () => {
    if (readIfThere(path)?.owner === owner) rmSync(path, { force: true })
  }
  const beat = setInterval(() => {
    const now = new Date()
    try {
      utimesSync(path, now, now)
    } catch {
      // the file was cleared away while this machine slept; the work itself is still ours to end
    }
  }, freshMs)
  process.once('exit', release)
  try {
    return await work()
  } finally {
    clearInterval(beat)
    process.removeListener('exit', release)
    release()
  }
}
