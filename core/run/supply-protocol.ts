import { failure, success, type Result } from '../result.ts';
import { compileAnswer, SCPI_NUMBER, type AnswerPattern } from './answer-pattern.ts';
import { readQuery, type ReadQuery } from './read-query.ts';

/** A supply's line protocol as it stands in the shop's book: plain data. */
export interface SupplyProtocolSettings {
  readonly name: string;
  readonly identifyQuery: string | null;
  readonly voltageQuery: string;
  readonly voltageAnswer: AnswerPattern;
  /** null where the voltage's answer carries the current too. */
  readonly currentQuery: string | null;
  readonly currentAnswer: AnswerPattern;
  /** Asked after a spoiled answer and now and then; null where the supply knows none. */
  readonly errorQuery: string | null;
  readonly lineEnd: '\n' | '\r' | '\r\n';
  readonly intervalS: number;
  readonly timeoutS: number;
}

/** SCPI-1999 with IEEE 488.2 identification. */
export const SCPI_PROTOCOL: SupplyProtocolSettings = {
  name: 'SCPI',
  identifyQuery: '*IDN?',
  voltageQuery: 'MEAS:VOLT?',
  voltageAnswer: SCPI_NUMBER,
  currentQuery: 'MEAS:CURR?',
  currentAnswer: SCPI_NUMBER,
  errorQuery: 'SYST:ERR?',
  lineEnd: '\n',
  intervalS: 2,
  timeoutS: 1.5,
};

export interface SupplyProtocol {
  readonly settings: SupplyProtocolSettings;
  readonly identify: ReadQuery | null;
  readonly voltage: ReadQuery;
  readonly current: ReadQuery | null;
  readonly errors: ReadQuery | null;
  readonly readVoltage: (line: string) => number | undefined;
  readonly readCurrent: (line: string) => number | undefined;
}

/** Checks every query and pattern. Failures: those of readQuery and compileAnswer, `protocol-interval`. */
export function supplyProtocol(settings: SupplyProtocolSettings): Result<SupplyProtocol> {
  if (!(
    settings.intervalS >= 0.2 &&
    settings.intervalS <= 60 &&
    settings.timeoutS >= 0.1 &&
    settings.timeoutS <= 30
  )) {
    return failure(
      'protocol-interval',
      'The supply would be asked too often, too rarely, or waited for too long.',
      'Ask every 0.2 to 60 s and wait 0.1 to 30 s for an answer.',
    );
  }
  const ask = (text: string | null): Result<ReadQuery | null> =>
    text === null ? success(null) : readQuery(text);
  const identify = ask(settings.identifyQuery);
  if (!identify.ok) return identify;
  const voltage = readQuery(settings.voltageQuery);
  if (!voltage.ok) return voltage;
  const current = ask(settings.currentQuery);
  if (!current.ok) return current;
  const errors = ask(settings.errorQuery);
  if (!errors.ok) return errors;
  const readVoltage = compileAnswer(settings.voltageAnswer);
  if (!readVoltage.ok) return readVoltage;
  const readCurrent = compileAnswer(settings.currentAnswer);
  if (!readCurrent.ok) return readCurrent;
  return success({
    settings,
    identify: identify.value,
    voltage: voltage.value,
    current: current.value,
    errors: errors.value,
    readVoltage: readVoltage.value,
    readCurrent: readCurrent.value,
  });
}
