import { describe, expect, it } from 'vitest';
import { PageCount } from '../../src/floor/page_count';
import { at_rest, flown_s, landed, launched, phase, read_watch, seconds_of, top_s, topped, two_ways, watch_text } from '../../src/floor/stopwatch';

describe('the stopwatch', () => {
  it('goes by the time of day, however often the page looks at it', () => {
    const watch = launched(1_000_000);
    expect(flown_s(watch, 1_012_500)).toBe(12.5);
    expect(flown_s(landed(watch, 1_768_600), 9_999_999)).toBe(768.6);
  });

  it('goes on after the page was loaded again', () => {
    const kept = read_watch(JSON.parse(JSON.stringify(topped(launched(1_000_000), 1_300_000))));
    expect(phase(kept)).toBe('flying');
    expect(flown_s(kept, 1_600_000)).toBe(600);
    expect(top_s(kept)).toBe(300);
  });

  it('stops once, and takes a top only while it runs', () => {
    const stopped = landed(launched(0), 60_000);
    expect(landed(stopped, 90_000)).toBe(stopped);
    expect(topped(stopped, 90_000)).toBe(stopped);
    expect(phase(landed(at_rest, 5))).toBe('ready');
  });

  it('knows no time when the clock was set back', () => {
    expect(flown_s(launched(2_000_000), 1_000_000)).toBeNull();
  });

  it('takes what is no stopwatch for one at rest', () => {
    for (const odd of [null, 'running', { started_ms: 'noon' }, { stopped_ms: 4 }, 7]) expect(read_watch(odd)).toEqual(at_rest);
  });
});

describe('times in words', () => {
  it('cut tenths and do not round up', () => {
    expect(watch_text(768.69)).toEqual(['12:48', '.6']);
    expect(watch_text(59.99)).toEqual(['0:59', '.9']);
    expect(watch_text(0.3)).toEqual(['0:00', '.3']);
  });

  it('with two digits behind a point could be minutes', () => {
    expect(two_ways('12.48')).toEqual({ minutes: '12:48', seconds: '12.48\u00a0s' });
    expect(two_ways('7,27')).toEqual({ minutes: '7:27', seconds: '7.27\u00a0s' });
    expect(seconds_of('12.48\u00a0s')).toBe(12.48);
    expect(['12:48', '12.48 s', '12.4', '312.48', '12.75', '0.48', ''].map(two_ways)).toEqual(Array(7).fill(null));
  });

  it('are read as they are written down', () => {
    expect(['12:48.6', '12 min 48.6 s', '12m48.6', '768.6', '768.6 s', '768,6'].map(seconds_of)).toEqual(Array(6).fill(768.6));
    expect(['', 'noon', '12:75', '-4', '1:2:3'].map(seconds_of)).toEqual(Array(5).fill(null));
  });
});

describe("the page's own count", () => {
  const begun = (hidden = false) => {
    const count = new PageCount();
    count.begin(1_000_000, 5_000, hidden);
    return count;
  };

  it('tells where the clock of the device was set in the air, forward or back', () => {
    expect(begun().differing_s(1_000_000, 1_308_000, 306_000)).toBe(301);
    expect(begun().differing_s(1_000_000, 1_240_000, 306_000)).toBe(301);
  });

  it('says nothing where both agree, or it did not see the start', () => {
    expect(begun().differing_s(1_000_000, 1_301_000, 306_400)).toBeNull();
    expect(begun().differing_s(2_000_000, 2_400_000, 306_000)).toBeNull();
    expect(begun().differing_s(null, 1_308_000, 306_000)).toBeNull();
    expect(new PageCount().differing_s(1_000_000, 1_308_000, 306_000)).toBeNull();
  });

  it('of a page that was out of sight may be too small, but never too great', () => {
    const slept = begun();
    slept.hide();
    expect(slept.differing_s(1_000_000, 1_308_000, 306_000)).toBeNull();
    expect(slept.differing_s(1_000_000, 1_240_000, 306_000)).toBe(301);
  });
});
