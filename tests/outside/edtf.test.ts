import { describe, expect, test } from 'vitest';
import { readDate, sayDate, yearOf, type EdtfDate } from '../../src/language/dates';

function date(text: string): EdtfDate {
  const answer = readDate(text);
  if (!answer.ok) throw new Error(answer.message);
  return answer.date;
}

const bounds = (text: string): [string | undefined, string | undefined] => {
  const { earliest, latest } = date(text);
  return [earliest, latest];
};

// Source: the examples of the Library of Congress EDTF specification (4 February 2019), as given with their bounds in the
// tests of python-edtf, which say they cover every example of the specification's table.
describe('examples of the EDTF specification', () => {
  test.each([
    ['2008-12', '2008-12-01', '2008-12-31'],
    ['1964/2008', '1964-01-01', '2008-12-31'],
    ['2004-02-01/2005-02', '2004-02-01', '2005-02-28'],
    ['199X', '1990-01-01', '1999-12-31'],
    ['19XX', '1900-01-01', '1999-12-31'],
    ['1999-XX', '1999-01-01', '1999-12-31'],
    ['1999-01-XX', '1999-01-01', '1999-01-31'],
    ['156X-12-25', '1560-12-25', '1569-12-25'],
    ['2001-34', '2001-04-01', '2001-06-30'],
    ['1950S2', '1900-01-01', '1999-12-31'],
  ])('%s is from %s to %s', (text, earliest, latest) => {
    expect(bounds(text)).toEqual([earliest, latest]);
  });

  test.each([
    ['1984?', true, false],
    ['1984~', false, true],
    ['1984%', true, true],
  ])('%s keeps strict bounds and its marks', (text, uncertain, approximate) => {
    expect(date(text)).toMatchObject({
      earliest: '1984-01-01',
      latest: '1984-12-31',
      uncertain,
      approximate,
    });
  });

  test('an open end is told from an unknown one', () => {
    expect(date('../2006')).toMatchObject({
      openStart: true,
      openEnd: false,
      latest: '2006-12-31',
    });
    expect(date('2004-01-01/..')).toMatchObject({
      openStart: false,
      openEnd: true,
      earliest: '2004-01-01',
    });
    expect(date('2004-06-01/')).toMatchObject({
      openStart: false,
      openEnd: false,
      earliest: '2004-06-01',
    });
    expect(bounds('2004-06-01/')[1]).toBeUndefined();
  });

  // The months of 21 to 24 are not the specification's, so they are not checked here.
  test('2001-21 is spring', () => {
    expect(sayDate('2001-21')).toBe('spring 2001');
  });

  test('one of several and all of several are told apart', () => {
    expect(bounds('[1667,1668,1670..1672]')).toEqual(['1667-01-01', '1672-12-31']);
    expect(sayDate('[1667,1668,1670..1672]')).toMatch(/^one of /);
    expect(bounds('{1960,1961-12}')).toEqual(['1960-01-01', '1961-12-31']);
    expect(sayDate('{1960,1961-12}')).not.toMatch(/one of/);
  });

  test('Y-17E7 is 170,000,000 years before the year 0', () => {
    expect(yearOf('Y-17E7')).toBe(-170_000_000);
  });
});

// Source: the tests of edtf.js (test/parser.js) name these as not dates.
test.each(['2016-13', '2016-00', '2016-02-30', '-0000', '12345', '2016-04-31'])(
  '%s is refused',
  (text) => {
    expect(readDate(text)).toMatchObject({ ok: false, code: 'bad-date' });
  },
);

// Source: the README of edtf.js.
test('bounds agree with the README of edtf.js', () => {
  expect(bounds('2016-02')).toEqual(['2016-02-01', '2016-02-29']);
  expect(bounds('2016-02-2X')).toEqual(['2016-02-20', '2016-02-29']);
});

// Source: the README of edtf.js: the interval covers 24 August 2016 and not 31 May 2016.
test('2016-06/2016-09 covers 24 August and not 31 May', () => {
  const { earliest = '', latest = '' } = date('2016-06/2016-09');
  const covers = (day: string): boolean => earliest <= day && day <= latest;
  expect([covers('2016-08-24'), covers('2016-05-31')]).toEqual([true, false]);
});
