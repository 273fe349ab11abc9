import { describe, expect, it } from 'vitest';
import type { FamilyResult } from '../../../src/model/family-result.js';
import { familyPage } from '../../../src/report/family/family-page.js';
import { familyResult } from '../../support/family-result.js';

const result = familyResult();
const page = familyPage(result, 'body { color: red }');

/** The words of the page, without tags, one space between them. */
const wordsOf = (html: string): string =>
  html
    .replace(/<(?:style|head)>.*?<\/(?:style|head)>/gs, '')
    .replaceAll(/<[^>]+>/g, ' ')
    .replaceAll(/\s+/g, ' ');
const sectionOf = (html: string, id: string): string =>
  wordsOf(new RegExp(`<section id="${id}".*?</section>`, 's').exec(html)?.[0] ?? '');

describe('familyPage', () => {
  it('says at the top what is built in how many ways, and why no fewer do', () => {
    expect(page).toContain('12 variants, 11 built in 2 ways (3 found).');
    expect(wordsOf(page)).toContain('Fewer of them do not: h160-t6 and h240-t6 have none in common.');
  });

  it('tells first what is not built and why, with warnings and cautions', () => {
    const first = sectionOf(page, 'first');
    expect(first).toContain('1 variant of 12 cannot be built as asked.');
    expect(first).toContain('h260-t14: no plan exists: base weighs 24.6 kg with its gripper');
    for (const told of [...result.warnings, ...result.cautions]) expect(first).toContain(told);
  });

  it('has every variant against every pattern, with time, regrips, reserve, cost and what stops it', () => {
    const matrix = sectionOf(page, 'matrix');
    for (const { name } of result.variants) expect(matrix).toContain(name);
    expect(matrix).toContain(
      'h200-t6 height 200, thick 6 6 min 0.4 s 1 regrip, reserve 1.83 of 1.5 ● 6 min 2.9 s 1 regrip, reserve 1.83 of 1.5 +2.5 s ○ 6 min 2.9 s 2 regrips, reserve 1.83 of 1.5 +1 regrip, +2.5 s × no joint 5 beyond its limit',
    );
    expect(matrix).toContain('× none no plan exists: payload × no payload');
    expect((page.match(/class="mark built"/g) ?? []).length).toBe(11);
  });

  it('leads to the plan of each variant beside it, its own and the one by its pattern', () => {
    for (const name of [
      'h160-t6.P1.plan.json',
      'h240-t6.P2.plan.json',
      'h240-t6.own.plan.json',
      'h260-t14.weldment.json',
    ])
      expect(page).toContain(`href="variants/${name}"`);
    expect(page).not.toContain('href="variants/h260-t14.own.plan.json"');
  });

  it('shows the chosen patterns stage by stage with what each variant puts in, and the others folded', () => {
    const patterns = sectionOf(page, 'patterns');
    expect(patterns).toContain(
      '3 web handler magnet-small on +y, 12.5, -4 mm off the middle; put on the regrip table, on -z magnet-small on -y, pads inner over the centre of mass web held → welder secured → handler away → welder',
    );
    expect(patterns).toContain('4 cheek-right');
    expect(patterns).toContain('grip 0, 17 tacks 2 + 1 proof 50 N');
    expect(patterns).toContain('P3, from the plan of h160-t6: fits h160-t6 and h160-t8');
    expect(page).toMatch(/<details id="pattern-P3">/);
  });

  it('tells where in the ranges a pattern ends, what ends it, and draws it', () => {
    const envelope = sectionOf(page, 'envelope');
    expect(envelope).toContain('height 150 to 260 mm, in steps of 5 mm; thick 6 to 12 mm, in steps of 1 mm.');
    expect(envelope).toContain('nothing is proved between them');
    expect(envelope).toContain('P1 height 205, thick 11 height 205, thick 12 base weighs 24.6 kg');
    expect((page.match(/role="img"/g) ?? []).length).toBe(2);
    expect((page.match(/class="r-limit"/g) ?? []).length).toBe(3);
  });

  it('claims no end where there is none, and does not call that well where a pattern works nowhere', () => {
    const envelope = result.envelope!;
    const always = (fits: boolean): string => {
      const samples = envelope.samples.map((sample) => ({
        ...sample,
        patterns: sample.patterns.map((one) => ({ ...one, fits })),
      }));
      const changed = { ...result, envelope: { ...envelope, samples, boundaries: [] } };
      return sectionOf(familyPage(changed, ''), 'envelope');
    };
    expect(always(true)).toContain('No place was found at which a chosen pattern stops working.');
    expect(always(false)).toContain('No end was found between a place where a chosen pattern works and one');
  });

  it('draws one strip for each pattern where only one parameter has a range, none for three', () => {
    const of = (parameters: FamilyResult['parameters']): string => familyPage({ ...result, parameters }, '');
    const [height, thick] = result.parameters;
    expect(of([height!]).match(/role="img"/g)).toHaveLength(1);
    expect(of([height!, thick!, { ...thick!, name: 'width' }])).not.toContain('role="img"');
  });

  it('says that all is well where it is, and leaves ranges out where there are none', () => {
    const all = familyPage(
      { ...result, covering: { ...result.covering, uncovered: [] }, envelope: null },
      '',
    );
    expect(sectionOf(all, 'first')).toContain('Every variant is built');
    expect(all).not.toContain('id="envelope"');
  });

  it('says in few words what stops a variant: what is wrong, or what was asked for and is not met', () => {
    const stopped = (code: string): string => {
      const reasons = [{ code, subjects: [], text: 'in full' }];
      const variants = result.variants.map((one) => (one.own === null ? { ...one, reasons } : one));
      return sectionOf(familyPage({ ...result, variants }, ''), 'matrix');
    };
    expect(stopped('joint-4-limit')).toContain('no plan exists: joint 4 beyond its limit');
    expect(stopped('no-approach')).toContain('no plan exists: not met: a straight way into place');
    expect(stopped('wish')).toContain('no plan exists: in full');
    expect(stopped('something-else')).toContain('no plan exists: something else');
  });

  it('escapes names and texts, and makes no link of a path that leads elsewhere', () => {
    const bad = '<img src=x onerror=alert(1)>"\'&';
    const hostile = JSON.parse(
      JSON.stringify(result)
        .replaceAll('h160-t6', JSON.stringify(bad).slice(1, -1))
        .replaceAll('magnet-wide', JSON.stringify(bad).slice(1, -1))
        .replaceAll('J2.1@10', JSON.stringify(bad).slice(1, -1)),
    ) as FamilyResult;
    const variants = hostile.variants.map((one, i) => ({
      ...one,
      weldmentFile: ['javascript:alert(1)', '../up.json', '/etc/x', 'a/b c.json'][i] ?? null,
    }));
    const html = familyPage({ ...hostile, variants }, '');
    expect(html).not.toContain('<img');
    expect(html).not.toMatch(/href="(?:javascript|\.\.|\/)/);
    expect(html).toContain('href="a/b%20c.json"');
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;');
  });

  it('needs no script and asks nobody for anything', () => {
    expect(page).not.toMatch(/<script|<link|<img|@import|url\(/);
    expect(page).toContain('default-src &#39;none&#39;; style-src &#39;unsafe-inline&#39;');
    expect(familyPage(familyResult(), 'body { color: red }')).toBe(page);
  });

  it('balances its tags and leads to ids that are there', () => {
    const open: string[] = [];
    for (const [, end, name, closed] of page.matchAll(/<(\/?)([a-z0-9]+)(?:\s[^>]*?)?(\/?)>/g))
      if (end) expect(open.pop()).toBe(name);
      else if (!closed && !['br', 'meta'].includes(name!)) open.push(name!);
    expect(open).toEqual([]);
    for (const [, id] of page.matchAll(/href="#([^"]+)"/g)) expect(page).toContain(`id="${id}"`);
  });
});
