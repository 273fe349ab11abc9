import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ALL_ROLES, ON_PAGE, ON_PAPER, picking } from '../../src/report/theme.js';

const css = readFileSync(new URL('../../src/browser/charts.css', import.meta.url), 'utf8').replace(
  /\/\*.*?\*\//gs,
  '',
);

describe('the two themes of a drawing', () => {
  it('have every kind of mark, on paper as attributes and on a page as a class with a rule of its own', () => {
    for (const role of ALL_ROLES) {
      expect(Object.keys(ON_PAPER.paint(role)).length, role).toBeGreaterThan(0);
      expect(ON_PAGE.paint(role)).toEqual({ class: `r-${role}` });
      expect(css, role).toMatch(new RegExp(`\\.r-${role}[,\\s]`));
    }
  });

  it('paint parts in the same colours: pictures of parts are on white everywhere', () => {
    for (const role of ALL_ROLES.filter((one) => /^(?:face|new|side)/.test(one))) {
      const rules = [...css.matchAll(/([^{}]+)\{([^}]*)\}/g)].filter(([, of]) =>
        of!.split(',').some((one) => one.trim() === `.r-${role}`),
      );
      const said = new Map(
        rules.flatMap(([, , body]) => [...body!.matchAll(/([\w-]+): ([^;]+);/g)].map(([, k, v]) => [k, v])),
      );
      for (const [name, value] of Object.entries(ON_PAPER.paint(role)))
        expect(said.get(name), `${role} ${name}`).toBe(String(value));
    }
  });

  it('let marks be picked on a page only', () => {
    expect(picking(ON_PAPER, 'step:0.1', 2.5)).toEqual({});
    expect(picking(ON_PAGE, 'step:0.1', 2.5)).toEqual({
      ...{ 'data-pick': 'step:0.1', 'data-at': '2.5' },
    });
  });
});
