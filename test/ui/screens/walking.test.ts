import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { expandLayout } from '../../../src/spokes/expandLayout.ts';
import { parseRoute, type Route, routeHref } from '../../../src/ui/parts/route.ts';
import { VERSION } from '../../../src/ui/parts/version.ts';
import { STARTING_WHEELS } from '../../../src/ui/screens/describe/startingWheels.ts';
import { showTension, signed } from '../../../src/ui/screens/judge/showTension.ts';
import { markOf } from '../../../src/ui/screens/judge/verdictWords.ts';
import { nearestSpoke } from '../../../src/ui/screens/listen/nearestSpoke.ts';
import { placeWords } from '../../../src/ui/screens/listen/placeWords.ts';

const spokes = (() => {
  const laid = expandLayout(
    STARTING_WHEELS[0]?.make('w', '2026-01-01T00:00:00.000Z').layout ?? { kind: 'evenness', sides: [] },
  );
  return laid.ok ? laid.spokes : [];
})();

describe('a place', () => {
  it('is counted from the valve hole the shorter way round', () => {
    expect(placeWords(1, 32)).toBe('1st after the valve hole');
    expect(placeWords(12, 32)).toBe('12th after the valve hole');
    expect(placeWords(31, 32)).toBe('2nd before the valve hole');
    expect(placeWords(32, 32)).toBe('1st before the valve hole');
  });
});

describe('a touch on the wheel', () => {
  it('means the spoke whose place at the rim is nearest, for every place', () => {
    for (const spoke of spokes) {
      const dx = Math.sin(spoke.rimAngle + 0.02) * 90;
      const dy = -Math.cos(spoke.rimAngle + 0.02) * 90;
      expect(nearestSpoke(spokes, dx, dy, 100)).toBe(spoke.number);
    }
  });
  it('far outside the rim means none: a thumb that holds the phone is not a step', () => {
    expect(nearestSpoke(spokes, 130, 20, 100)).toBeUndefined();
  });
  it('near the hub means none: a finger covers too many there', () => {
    expect(nearestSpoke(spokes, 5, 5, 100)).toBeUndefined();
  });
});

describe('an address', () => {
  const routes: Route[] = [
    { screen: 'wheels' },
    { screen: 'new' },
    { screen: 'sheetCheck' },
    { screen: 'settings' },
    { screen: 'help', topic: '' },
    { screen: 'help', topic: 'pluck' },
    { screen: 'judge', wheelId: 'a/b c?ü' },
  ];
  it.each(routes.map((route) => [routeHref(route), route] as const))(
    '%s leads where it was made for',
    (href, route) => {
      expect(parseRoute(href)).toEqual(route);
    },
  );
  it.each(['#/nowhere', '#/wheel/x', '#/wheel/x/nowhere', '#%', ''])('“%s” leads to the wheels', (href) => {
    expect(parseRoute(href)).toEqual({ screen: 'wheels' });
  });
});

describe('the one sign of a spoke', () => {
  it('shows the limit before evenness, and what is sure before what is not', () => {
    expect(markOf('over', 'tight')).toBe('over');
    expect(markOf('within', 'tight')).toBe('tight');
    expect(markOf('cannotBeCleared', 'slack')).toBe('slack');
    expect(markOf('cannotBeCleared', 'even')).toBe('notCleared');
    expect(markOf('within', 'even')).toBe('within');
    expect(markOf('noLimit', 'even')).toBe('even');
  });
});

describe('a figure as shown', () => {
  it('is rounded like its interval, in the unit chosen', () => {
    expect(showTension(1012.4, 31.4, 'N')).toEqual({ value: '1012', plusMinus: '31', unit: 'N' });
    expect(showTension(1012.4, 12, 'kgf')).toEqual({ value: '103.2', plusMinus: '1.2', unit: 'kgf' });
  });
  it('has no sign where it rounds to nothing', () => {
    expect(signed(-0.04)).toBe('0.0');
    expect(signed(-1.26)).toBe('−1.3');
    expect(signed(2)).toBe('+2.0');
  });
});

describe('the version on reports', () => {
  it('is the package’s', () => {
    expect(JSON.parse(readFileSync('package.json', 'utf8'))).toMatchObject({ version: VERSION });
  });
});
