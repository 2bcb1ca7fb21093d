import { useCallback, useEffect, useRef, useState } from 'react';
import type { InputOf, Progress } from '../../../core/contract/index.ts';
import type { Failure } from '../../../core/errors.ts';
import { runJob } from '../../state/write.ts';
import { fileAsBase64, LARGEST_FILE } from './import-files.ts';
import type { Preview, Report } from './import-files.ts';
import type { Target } from './import-lists.ts';
import { say } from '../../state/say.ts';

export interface ChosenFile {
  file: File;
  base64: string;
}
/** How the file is to be read; '' = found out. */
export interface Reading {
  encoding: '' | 'utf-8' | 'windows-1252';
  delimiter: '' | ',' | ';' | '\t' | '|';
  hasHeader: boolean;
  dateOrder: 'auto' | 'month-first' | 'day-first';
}
export const READ_AS_FOUND: Reading = { encoding: '', delimiter: '', hasHeader: true, dateOrder: 'auto' };

const SETTLE_MS = 250;

/** The import from file to report: previews anew whenever an answer changes, and can stop what runs. */
export function useImport() {
  const [target, setTarget] = useState<Target>('clients');
  const [stationId, setStationId] = useState<string | null>(null);
  const [chosen, setChosen] = useState<ChosenFile | null>(null);
  const [reading, setReading] = useState<Reading>(READ_AS_FOUND);
  const [mapping, setMapping] = useState<Record<string, string> | null>(null);
  const [preview, setPreview] = useState<Preview | null>(null);
  const [report, setReport] = useState<Report | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [progress, setProgress] = useState<Progress | null>(null);
  const [running, setRunning] = useState<'read' | 'preview' | 'apply' | null>(null);
  const abort = useRef<AbortController | null>(null);

  const source = useCallback((): InputOf<'import.preview'> | null => {
    if (chosen === null || (target === 'weather' && stationId === null)) return null;
    return {
      target,
      fileName: chosen.file.name,
      bytesBase64: chosen.base64,
      hasHeader: reading.hasHeader,
      dateOrder: reading.dateOrder,
      stationId: target === 'weather' ? stationId : null,
      ...(reading.encoding === '' ? {} : { encoding: reading.encoding }),
      ...(reading.delimiter === '' ? {} : { delimiter: reading.delimiter }),
      ...(mapping === null ? {} : { mapping }),
    };
  }, [chosen, target, stationId, reading, mapping]);

  useEffect(() => {
    const input = source();
    if (input === null || report !== null) return undefined;
    const controller = new AbortController();
    const timer = setTimeout(() => {
      abort.current = controller;
      setRunning('preview');
      setProgress(null);
      void runJob('import.preview', input, { signal: controller.signal, onProgress: setProgress, quiet: true }).then(
        (reply) => {
          // A newer preview is on its way.
          if (abort.current !== controller) return;
          abort.current = null;
          setRunning(null);
          setProgress(null);
          if (reply.ok) setPreview(reply.data);
          setFailure(reply.ok ? null : reply.error);
        },
      );
    }, SETTLE_MS);
    return () => {
      clearTimeout(timer);
      if (abort.current === controller) abort.current = null;
      controller.abort();
    };
  }, [source, report]);

  const choose = useCallback(async (file: File) => {
    setFailure(null);
    if (file.size > LARGEST_FILE) {
      setFailure({
        code: 'bad-input',
        message: say('import.tooLarge', { file: file.name, megabytes: Math.floor(LARGEST_FILE / 1024 / 1024) }),
      });
      return;
    }
    setRunning('read');
    try {
      const base64 = await fileAsBase64(file);
      setPreview(null);
      setReport(null);
      setMapping(null);
      setReading(READ_AS_FOUND);
      setChosen({ file, base64 });
    } catch {
      setFailure({
        code: 'disk',
        message: say('import.notRead', { file: file.name }),
      });
    } finally {
      setRunning((now) => (now === 'read' ? null : now));
    }
  }, []);

  const chooseTarget = useCallback((next: Target) => {
    setTarget(next);
    setMapping(null);
    setPreview(null);
    setReport(null);
    setFailure(null);
  }, []);

  const matchColumn = useCallback(
    (index: number, field: string) => {
      if (preview === null) return;
      setMapping((old) => ({
        ...Object.fromEntries(preview.columns.map((column) => [String(column.index), column.field])),
        ...old,
        [String(index)]: field,
      }));
    },
    [preview],
  );

  const apply = useCallback(
    async (mode: 'good-rows' | 'all-or-none') => {
      const input = source();
      if (input === null) return;
      const controller = new AbortController();
      abort.current = controller;
      setRunning('apply');
      setProgress(null);
      const reply = await runJob(
        'import.apply',
        { ...input, mode },
        { signal: controller.signal, onProgress: setProgress, quiet: true },
      );
      if (abort.current === controller) abort.current = null;
      setRunning(null);
      setProgress(null);
      setFailure(reply.ok ? null : reply.error);
      if (reply.ok) setReport(reply.data);
    },
    [source],
  );

  const readAgain = useCallback(() => setChosen((old) => (old === null ? null : { ...old })), []);
  const stop = useCallback(() => abort.current?.abort(), []);
  const startOver = useCallback(() => {
    setChosen(null);
    setPreview(null);
    setReport(null);
    setMapping(null);
    setFailure(null);
    setReading(READ_AS_FOUND);
  }, []);
  const readAs = useCallback((change: Partial<Reading>) => {
    setReading((old) => ({ ...old, ...change }));
    // Another cut makes other columns.
    if (change.dateOrder === undefined) setMapping(null);
  }, []);

  return {
    target,
    chooseTarget,
    stationId,
    setStationId,
    chosen,
    choose,
    reading,
    readAs,
    mapping,
    matchColumn,
    preview,
    report,
    failure,
    progress,
    running,
    apply,
    stop,
    readAgain,
    startOver,
  };
}
export type Import = ReturnType<typeof useImport>;
