import ts from 'typescript'

// Names of the surrounding world that plain computation must not reach for.
const forbidden = new Set([
  ...['console', 'document', 'window', 'globalThis', 'self', 'navigator', 'location', 'localStorage'],
  ...['sessionStorage', 'indexedDB', 'performance', 'process', 'crypto', 'fetch', 'requestAnimationFrame'],
  ...['setTimeout', 'setInterval', 'setImmediate'],
])

/**
 * For each script, the uses of clocks, randomness, consoles and pages that its own declarations do not
 * explain: a parameter called `document` is no page. Names are bound by the compiler, which is given no
 * library, so that whatever it cannot resolve is a name of the surrounding world.
 */
export function globalUses(scripts: readonly ts.SourceFile[]): Map<string, string[]> {
  const byName = new Map(scripts.map((script) => [script.fileName, script]))
  const host: ts.CompilerHost = {
    getSourceFile: (name) => byName.get(name),
    getDefaultLibFileName: () => 'none.d.ts',
    writeFile: () => undefined,
    getCurrentDirectory: () => '',
    getCanonicalFileName: (name) => name,
    useCaseSensitiveFileNames: () => true,
    getNewLine: () => '\n',
    fileExists: (name) => byName.has(name),
    readFile: (name) => byName.get(name)?.text,
  }
  const options = { noLib: true, noResolve: true, types: [], target: ts.ScriptTarget.ES2022 }
  const checker = ts.createProgram([...byName.keys()], options, host).getTypeChecker()
  const isOfTheWorld = (name: ts.Identifier) => {
    const symbol = ts.isShorthandPropertyAssignment(name.parent)
      ? checker.getShorthandAssignmentValueSymbol(name.parent)
      : checker.getSymbolAtLocation(name)
    return (symbol?.declarations ?? []).length === 0
  }
  return new Map(scripts.map((script) => [script.fileName, usesIn(script, isOfTheWorld)]))
}

function usesIn(script: ts.SourceFile, isOfTheWorld: (name: ts.Identifier) => boolean): string[] {
  const found: string[] = []
  const visit = (node: ts.Node): void => {
    if (ts.isIdentifier(node) && isValueUse(node)) {
      const use = worldUse(node)
      if (use && isOfTheWorld(node)) {
        const { line } = script.getLineAndCharacterOfPosition(node.getStart(script))
        found.push(`${use} (line ${line + 1})`)
      }
    }
    ts.forEachChild(node, visit)
  }
  visit(script)
  return found
}

// Left out: the name after a dot, the key of a property, a label of a tuple, a type.
function isValueUse(name: ts.Identifier): boolean {
  const parent = name.parent
  if (ts.isPropertyAccessExpression(parent)) return parent.expression === name
  if (ts.isShorthandPropertyAssignment(parent)) return true
  if (ts.isTypeQueryNode(parent)) return true
  return ts.isExpression(name) && !isNameOfDeclaration(name) && !ts.isTypeNode(parent)
}

function isNameOfDeclaration(name: ts.Identifier): boolean {
  const parent = name.parent as ts.Node & { name?: ts.Node; propertyName?: ts.Node }
  return parent.name === name || parent.propertyName === name
}

function worldUse(name: ts.Identifier): string | undefined {
  if (forbidden.has(name.text)) return name.text
  const parent = name.parent
  if (name.text === 'Math') {
    // Anything but a plain look at a named function could be a way round.
    const isPlain = ts.isPropertyAccessExpression(parent) && parent.expression === name
    if (!isPlain) return 'Math itself'
    return parent.name.text === 'random' ? 'Math.random' : undefined
  }
  if (name.text === 'Date') {
    const isDated =
      ts.isNewExpression(parent) && parent.expression === name && (parent.arguments?.length ?? 0) > 0
    if (isDated) return undefined
    if (ts.isPropertyAccessExpression(parent) && ['UTC', 'parse'].includes(parent.name.text)) return undefined
    if (ts.isBinaryExpression(parent) && parent.operatorToken.kind === ts.SyntaxKind.InstanceOfKeyword)
      return undefined
    return ts.isPropertyAccessExpression(parent) ? `Date.${parent.name.text}` : 'the date of now'
  }
  return undefined
}
