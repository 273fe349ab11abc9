import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';

const SOURCE = join(import.meta.dirname, '../../src');

/** Codes that the source writes, and places whose code is made in a way that cannot be read off. */
export interface CodesInSource {
  readonly codes: ReadonlySet<string>;
  readonly unread: readonly string[];
}

/**
 * Every code of an issue, refusal or reason that the source writes: what is assigned to a `code`, and what is passed to
 * a function of the same file whose parameter is called `code`. The number in a template is shown as `N`.
 */
export function codesInSource(): CodesInSource {
  const files = readdirSync(SOURCE, { recursive: true, encoding: 'utf8' }).filter((file) =>
    file.endsWith('.ts'),
  );
  const read = files.sort().map((file) => new FileCodes(file));
  return {
    codes: new Set(read.flatMap(({ codes }) => codes)),
    unread: read.flatMap(({ unread }) => unread),
  };
}

class FileCodes {
  readonly codes: string[] = [];
  readonly unread: string[] = [];
  /** Functions with a parameter `code`, and its place. */
  private readonly takers = new Map<string, number>();
  private readonly tables = new Map<string, ts.Expression>();

  constructor(private readonly file: string) {
    const source = ts.createSourceFile(
      file,
      readFileSync(join(SOURCE, file), 'utf8'),
      ts.ScriptTarget.Latest,
      true,
    );
    this.each(source, (node) => this.note(node));
    this.each(source, (node) => this.collect(node));
  }

  private each(node: ts.Node, visit: (node: ts.Node) => void): void {
    visit(node);
    node.forEachChild((child) => this.each(child, visit));
  }

  private note(node: ts.Node): void {
    if (ts.isVariableDeclaration(node) && ts.isIdentifier(node.name) && node.initializer)
      this.tables.set(node.name.text, node.initializer);
    if (!ts.isFunctionLike(node)) return;
    const at = node.parameters.findIndex(({ name }) => ts.isIdentifier(name) && name.text === 'code');
    const named = ts.isArrowFunction(node) ? (node.parent as ts.VariableDeclaration).name : node.name;
    if (at >= 0 && named !== undefined && ts.isIdentifier(named)) this.takers.set(named.text, at);
  }

  private collect(node: ts.Node): void {
    if (
      (ts.isPropertyAssignment(node) || ts.isVariableDeclaration(node)) &&
      ts.isIdentifier(node.name) &&
      node.name.text === 'code' &&
      node.initializer
    )
      this.take(node.initializer);
    if (!ts.isCallExpression(node)) return;
    const { expression: callee } = node;
    const name = ts.isPropertyAccessExpression(callee) ? callee.name.text : callee.getText();
    const at = this.takers.get(name);
    const given = at === undefined ? undefined : node.arguments[at];
    if (given) this.take(given);
  }

  private take(value: ts.Expression): void {
    if (ts.isStringLiteralLike(value)) this.add(value.text);
    else if (ts.isConditionalExpression(value))
      [value.whenTrue, value.whenFalse].forEach((one) => this.take(one));
    else if (ts.isTemplateExpression(value))
      this.add([value.head.text, ...value.templateSpans.map((span) => `N${span.literal.text}`)].join(''));
    else if (ts.isElementAccessExpression(value)) this.takeTable(value);
    else this.unread.push(`${this.file}: ${value.getText()}`);
  }

  /** What has spaces in it is a text given to another function of the same name. */
  private add(code: string): void {
    if (!code.includes(' ')) this.codes.push(code);
  }

  private takeTable({ expression }: ts.ElementAccessExpression): void {
    const table = this.tables.get(expression.getText());
    if (table && ts.isObjectLiteralExpression(table))
      for (const row of table.properties) if (ts.isPropertyAssignment(row)) this.take(row.initializer);
  }
}
