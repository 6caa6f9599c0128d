import { describe, expect, it } from 'vitest';
import { calc } from '../../../gateway/cli/calc.js';
import { CALCULATIONS } from '../../../rules/calc/catalogue.js';

const run = (command: string): { readonly code: number; readonly lines: readonly string[] } => {
  const lines: string[] = [];
  const code = calc(command === '' ? [] : command.split(' '), (line) => lines.push(line));
  return { code, lines };
};

const json = (command: string): unknown => {
  const { code, lines } = run(`${command} --json`);
  expect(code).toBe(0);
  expect(lines).toHaveLength(1);
  return JSON.parse(lines[0] ?? '');
};

describe('nightwater calc answers', () => {
  it('47.9180 mS/cm at 20 °C is salinity 35 (PSS-78; GSW-Python 3.6.16)', () => {
    expect(json('practical-salinity --conductivity-ms-cm 47.9180440285 --temperature-c 20')).toMatchObject({
      value: expect.closeTo(35, 6),
      unit: '1',
      source: expect.stringContaining('PSS-78'),
    });
  });

  it('conductivity turned to 25 °C is undone with 1.91 % per °C, and that assumption is said', () => {
    const command = 'salinity-from-specific-conductance --specific-conductance-ms-cm 52.977384 --temperature-c 20';
    expect(json(command)).toMatchObject({ value: expect.closeTo(35, 5), assumed: { compensationPctPerC: 1.91 } });
    expect(run(command).lines[0]).toContain('Assumed --compensation-pct-per-c 1.91 %/°C.');
    expect(json(`${command} --compensation-pct-per-c 2`)).not.toHaveProperty('assumed');
  });

  it('water of 35 at 20 °C holds 7.395 mg/L, and 7 mg/L in it are 94.66 % (Garcia and Gordon 1992)', () => {
    expect(json('oxygen-solubility --salinity 35 --temperature-c 20')).toMatchObject({
      value: expect.closeTo(7.395, 3),
      unit: 'mg/L',
    });
    expect(json('oxygen-saturation --oxygen-mg-l 7 --salinity 35 --temperature-c 20')).toMatchObject({
      value: expect.closeTo(94.659, 3),
      unit: '%',
    });
  });

  it('salinity 35 at 25 °C weighs 1023.34 kg/m3 (EOS-80)', () => {
    expect(json('density --salinity 35 --temperature-c 25')).toMatchObject({
      value: expect.closeTo(1023.343, 2),
      unit: 'kg/m3',
    });
  });

  it('at pH 8.0, salinity 34 and 20 °C 0.0298 of the ammonia is un-ionised (Bower and Bidwell 1978), said in two digits', () => {
    const command = 'unionised-ammonia --ph 8.0 --salinity 34 --temperature-c 20';
    const answer = json(command);
    expect(answer).toMatchObject({ value: expect.closeTo(0.0298, 3) });
    expect(run(command).lines[0]).toMatch(/^The unionised ammonia is 0\.03\./);
  });

  it('several figures come with a unit each', () => {
    expect(json('stuck-heater --heater-kw 1 --volume-l 75 --now-c 28 --limit-c 32')).toMatchObject({
      value: { riseCPerH: expect.closeTo(11.76, 2), hoursToLimit: expect.closeTo(0.34, 2) },
      unit: { riseCPerH: '°C/h', hoursToLimit: 'h' },
      caution: expect.stringContaining('Switch a heater off'),
    });
  });

  it('lists are written with commas, or in pieces', () => {
    const rest = '--subsample-ml 0.2 --total-volume-ml 3000';
    const whole = json(`replicate-count --counts 76,56,84,82,96,87 ${rest}`);
    expect(whole).toMatchObject({ value: { animals: 1_202_500, overdispersed: true } });
    expect(json(`replicate-count --counts 76,56,84 --counts 82,96,87 ${rest}`)).toEqual(whole);
  });

  it('without --json it is a sentence', () => {
    const command =
      'feed-volume --tank-volume-l 1000 --target-cells-ml 50000 --residual-cells-ml 12000 --stock-cells-ml 6e6';
    expect(run(command)).toEqual({ code: 0, lines: ['The feed volume is 6.38655 L.'] });
  });

  it('a value may be negative, and stand behind an equals sign', () => {
    expect(run('density --salinity=30 --temperature-c -1').lines).toEqual(['The density is 1024.1 kg/m3.']);
  });

  it('an answer beyond what was measured says so', () => {
    expect(json('density --salinity 45 --temperature-c 20')).toMatchObject({ beyondFit: ['salinity'] });
    expect(json('density --salinity 35 --temperature-c 20')).not.toHaveProperty('beyondFit');
  });
});

describe('nightwater calc gives a reason when there is no answer, and that is no error', () => {
  it('too hot for the equation', () => {
    expect(json('oxygen-solubility --salinity 35 --temperature-c 51')).toMatchObject({
      value: null,
      reason: '--temperature-c is 51 °C; there is an answer only from -2 to 45 °C.',
      unit: 'mg/L',
      source: expect.any(String),
    });
  });

  it('a dry probe', () => {
    expect(run('practical-salinity --conductivity-ms-cm 0.001 --temperature-c 20')).toEqual({
      code: 0,
      lines: ['No answer: The conductivity is next to nothing (0.001 mS/cm): the probe is dry, or in pure water.'],
    });
  });

  it('a culture that is thinner than the target', () => {
    const command = 'feed-volume --tank-volume-l 1000 --target-cells-ml 50000 --stock-cells-ml 40000';
    expect(json(command)).toMatchObject({ value: null, reason: expect.stringContaining('no richer than the target') });
  });

  it('a spawning plan above its ceiling, until somebody argues for it', () => {
    const plan = ['spawning-plan', '--ambient-c', '21', '--cool-c', '16', '--rise-c', '11.1', '--ceiling-c', '30'];
    const lines: string[] = [];
    expect(calc(plan, (line) => lines.push(line))).toBe(0);
    expect(lines[0]).toContain('above the ceiling of 30 °C');
    calc([...plan, '--argument', 'Animals from a lagoon that is at 32 °C.'], (line) => lines.push(line));
    expect(lines[1]).toMatch(/^Spawning plan: warm phase 32\.1 °C, to the ceiling -2\.1 °C, .*because Animals from/);
  });
});

describe('nightwater calc says what was typed wrongly', () => {
  it.each([
    ['', 'Say what to calculate: nightwater calc NAME. nightwater calc --help lists the names.'],
    ['densty', 'There is no calculation called densty. Was it density?'],
    ['density --salinity 30', 'density needs --temperature-c (°C).'],
    ['density', 'density needs --salinity, --temperature-c (°C).'],
    ['density --salt 30', 'density has no option --salt. It has --salinity, --temperature-c (°C) and --json.'],
    ['density --salinity thirty --temperature-c 20', '--salinity is "thirty", which is not a number'],
    ['density --salinity 0x1E --temperature-c 20', '--salinity is "0x1E", which is not a number'],
    ['density --salinity 30,5 --temperature-c 20', '--salinity is "30,5", which is not a number'],
    ['density --salinity NaN --temperature-c 20', '--salinity is "NaN", which is not a number'],
    ['density --salinity 1e999 --temperature-c 20', '--salinity is "1e999", which is not a number'],
    ['density --salinity --temperature-c 20', '--salinity has no value: write --salinity NUMBER.'],
    ['density --salinity 30 --salinity 31 --temperature-c 20', '--salinity is given twice.'],
    ['density 30 20', '"30" has no option before it'],
    ['unionised-ammonia --ph 8 --salinity 34 --temperature-c 20 --ph-scale free', 'it can be nbs or total.'],
    ['replicate-count --counts 7,x --subsample-ml 1 --total-volume-ml 2', '--counts is "x", which is not a number'],
  ])('"%s"', (command, sentence) => {
    const { code, lines } = run(command);
    expect(code).toBe(2);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(sentence);
  });
});

describe('nightwater calc explains itself', () => {
  it('--help lists every calculation with its purpose', () => {
    const { code, lines } = run('--help');
    expect(code).toBe(0);
    for (const { name, purpose } of CALCULATIONS) {
      expect(lines.some((line) => line.trim().startsWith(`${name} `) && line.endsWith(purpose))).toBe(true);
    }
  });

  it('NAME --help says options, units, ranges, what is assumed, and the source', () => {
    const { code, lines } = run('oxygen-saturation --help');
    expect(code).toBe(0);
    expect(lines[0]).toBe(
      'nightwater calc oxygen-saturation --oxygen-mg-l N --salinity N --temperature-c N [--pressure-kpa N] [--json]',
    );
    expect(lines.join('\n')).toContain('--temperature-c  °C, -2 to 45, needed');
    expect(lines.join('\n')).toContain('--pressure-kpa   kPa, 50.6625 to 111.457, 101.325 when left out');
    expect(lines).toContain('Gives: %');
    expect(lines.at(-1)).toContain('Source: Garcia and Gordon 1992');
  });

  it.each(CALCULATIONS.map(({ name }) => name))('%s has help', (name) => {
    const { code, lines } = run(`${name} --help`);
    expect(code).toBe(0);
    expect(lines.some((line) => line.startsWith('Source: '))).toBe(true);
  });
});
