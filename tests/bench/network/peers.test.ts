import { describe, expect, it } from 'vitest'
import { readPeerLine } from './peerLine.ts'
import { buildCommand } from './peers.ts'

describe('what a peer says', () => {
  it('is the JSON of its last line', () => {
    const line =
      '{"peer":"X","n":12,"entries":40,"analyse_s":0.5,"factor_s":0.25,"solve_s":0.01,"check_ohm":0.125}'
    expect(readPeerLine(`a warning\n${line}\n`)).toEqual({
      peer: 'X',
      unknowns: 12,
      analyseS: 0.5,
      factorS: 0.25,
      solveS: 0.01,
      checkOhm: 0.125,
    })
  })

  it('is refused where a number is missing', () => {
    expect(() => readPeerLine('{"peer":"X","n":12,"analyse_s":0,"solve_s":1,"check_ohm":1}')).toThrow(
      'factor_s',
    )
  })
})

describe('how a peer is built', () => {
  it('stands in its head, without the remark behind it', () => {
    const source =
      '/* Times something.\n   build: gcc -O2 x.c -o x -lm   (Debian: libx-dev)\n   run: ./x */\nint main;'
    expect(buildCommand(source)).toEqual(['gcc', '-O2', 'x.c', '-o', 'x', '-lm'])
    expect(buildCommand('int main; // build nothing')).toBeNull()
  })
})
