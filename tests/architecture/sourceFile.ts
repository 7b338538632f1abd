import { parse } from 'svelte/compiler'
import ts from 'typescript'

/** What one source file asks for, as the parser sees it. */
export interface Source {
  /** Path below src/, with forward slashes: `network/compile.ts`. */
  readonly path: string
  readonly imports: readonly string[]
  /** True if the file holds nothing but exports of what other files have. */
  readonly isBarrel: boolean
  readonly hasDefaultExport: boolean
  /** Names of variables that the module itself keeps and may change. */
  readonly state: readonly string[]
  /** The scripts of the file as TypeScript, one per script element of a component. */
  readonly scripts: readonly ts.SourceFile[]
}

/** Reads one `.ts` or `.svelte` file. Throws when it does not parse. */
export function readSource(path: string, text: string): Source {
  const { texts, inMarkup } = path.endsWith('.svelte')
    ? readComponent(text)
    : { texts: [text], inMarkup: [] as string[] }
  const scripts = texts.map((script, i) =>
    ts.createSourceFile(scriptName(path, i), script, ts.ScriptTarget.ES2022, true, ts.ScriptKind.TS),
  )
  const statements = scripts.flatMap((script) => [...script.statements])
  return {
    path,
    imports: [...new Set([...scripts.flatMap(importsOf), ...inMarkup])],
    isBarrel: path.endsWith('.ts') && holdsOnlyReExports(statements),
    hasDefaultExport: statements.some(isDefaultExport),
    state: statements.flatMap(changeableNames),
    scripts,
  }
}

/** The name under which a script of a file is known to the compiler. */
function scriptName(path: string, index: number): string {
  return path.endsWith('.svelte') ? `${path}.${index}.ts` : path
}

function readComponent(text: string): { texts: string[]; inMarkup: string[] } {
  const root = parse(text, { modern: true })
  const scripts = [root.module, root.instance].filter((script) => script !== null && script !== undefined)
  const texts = scripts.map((script) => {
    const { start, end } = script.content as unknown as { start: number; end: number }
    return text.slice(start, end)
  })
  return { texts, inMarkup: importsInMarkup(root.fragment) }
}

interface TreeNode {
  type?: string
  source?: { value?: unknown }
  callee?: { name?: string }
  arguments?: readonly { value?: unknown }[]
}

// Markup may hold expressions, and an expression may import.
function importsInMarkup(tree: unknown): string[] {
  if (Array.isArray(tree)) return tree.flatMap(importsInMarkup)
  if (typeof tree !== 'object' || tree === null) return []
  const node = tree as TreeNode
  const found: string[] = []
  if (node.type === 'ImportExpression') found.push(asText(node.source?.value))
  if (node.type === 'NewExpression' && node.callee?.name === 'URL' && node.arguments?.length === 2)
    found.push(asText(node.arguments[0]?.value))
  return [...found, ...Object.values(tree).flatMap(importsInMarkup)]
}

function asText(value: unknown): string {
  return typeof value === 'string' ? value : unreadable
}

/** Stands for an import whose target is computed, which no reader can follow. */
export const unreadable = '(computed)'

function importsOf(script: ts.SourceFile): string[] {
  const found: string[] = []
  const add = (node: ts.Node | undefined) =>
    found.push(node && ts.isStringLiteralLike(node) ? node.text : unreadable)
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) add(node.moduleSpecifier)
    else if (ts.isExportDeclaration(node) && node.moduleSpecifier) add(node.moduleSpecifier)
    else if (ts.isImportTypeNode(node))
      add(ts.isLiteralTypeNode(node.argument) ? node.argument.literal : undefined)
    else if (ts.isImportEqualsDeclaration(node) && ts.isExternalModuleReference(node.moduleReference))
      add(node.moduleReference.expression)
    else if (ts.isCallExpression(node) && isModuleCall(node)) add(node.arguments[0])
    else if (ts.isNewExpression(node) && isUrlBesideModule(node)) add(node.arguments?.[0])
    ts.forEachChild(node, visit)
  }
  visit(script)
  return found
}

function isModuleCall({ expression }: ts.CallExpression): boolean {
  if (expression.kind === ts.SyntaxKind.ImportKeyword) return true
  return ts.isIdentifier(expression) && expression.text === 'require'
}

// new URL('./x.worker.ts', import.meta.url)
function isUrlBesideModule({ expression, arguments: args }: ts.NewExpression): boolean {
  const base = args?.[1]
  return (
    ts.isIdentifier(expression) &&
    expression.text === 'URL' &&
    base !== undefined &&
    ts.isPropertyAccessExpression(base) &&
    ts.isMetaProperty(base.expression)
  )
}

function isReExport(statement: ts.Statement): boolean {
  return ts.isExportDeclaration(statement)
}

function holdsOnlyReExports(statements: readonly ts.Statement[]): boolean {
  const own = statements.filter((statement) => !ts.isImportDeclaration(statement))
  return own.some(isReExport) && own.every(isReExport)
}

function isDefaultExport(statement: ts.Statement): boolean {
  if (ts.isExportAssignment(statement)) return true
  if (
    ts.isExportDeclaration(statement) &&
    statement.exportClause &&
    ts.isNamedExports(statement.exportClause)
  )
    return statement.exportClause.elements.some((element) => element.name.text === 'default')
  return (
    ts.canHaveModifiers(statement) &&
    (ts.getModifiers(statement) ?? []).some((modifier) => modifier.kind === ts.SyntaxKind.DefaultKeyword)
  )
}

function changeableNames(statement: ts.Statement): string[] {
  if (!ts.isVariableStatement(statement)) return []
  if (statement.declarationList.flags & ts.NodeFlags.Const) return []
  if (statement.modifiers?.some((modifier) => modifier.kind === ts.SyntaxKind.DeclareKeyword)) return []
  return statement.declarationList.declarations.map((declaration) => declaration.name.getText())
}
