export { decodeText } from './decode.ts';
export { stripFormulaGuard } from './formula-guard.ts';
export { type CsvRecord, readRecords } from './records.ts';
export { BYTE_ORDER_MARK, csvOf } from './write.ts';
