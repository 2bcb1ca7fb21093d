import { useEffect, useRef } from 'react';
import { Button, ButtonLink, EmptyState, formatCount, Section, Tabs } from '../../parts/index.ts';
import { countedFigure, countWords } from '../../parts/count-words.ts';
import { mendingCsv, saveText } from './import-files.ts';
import type { Preview, Report } from './import-files.ts';
import { RowList } from './row-list.tsx';
import { say, sayTold } from '../../state/say.ts';

/** What an import did, row by row. */
export function ImportReport({
  report,
  file,
  headers,
  onAgain,
}: {
  report: Report;
  file: File | null;
  headers: Preview['columns'];
  onAgain: () => void;
}) {
  const added = Object.entries(report.added).filter(([, count]) => count > 0);
  const said = useRef<HTMLDivElement>(null);
  // The button that was pressed is gone; the reader goes on with what came of it.
  useEffect(() => said.current?.focus(), []);
  const total = added.reduce((sum, [, count]) => sum + count, 0);
  const saveProblems = () => {
    if (file === null) return;
    void mendingCsv(
      file,
      report,
      headers.map(({ header, index }) => (header === '' ? say('import.columnNumber', { number: index + 1 }) : header)),
    ).then((text) => saveText(`${file.name.replace(/\.[^.]+$/, '')}-${say('import.toMendFile')}.csv`, text));
  };
  return (
    <Section
      title={
        !report.applied
          ? say('import.nothingImported')
          : total === 0
            ? say('import.nothingNew')
            : say('import.imported')
      }
    >
      <div role="status" ref={said} tabIndex={-1} className="report">
        <p className="report-words">
          {!report.applied
            ? say('import.everyOrNone', { rows: report.badRows })
            : total === 0
              ? say('import.allThere')
              : say('import.addedFrom', {
                  file: file?.name ?? say('import.theFile'),
                  what: added.map(([what, count]) => countedFigure(what, count)),
                })}
        </p>
      </div>
      <dl className="tally">
        {added.map(([what, count]) => (
          <div key={what} data-add>
            <dt>{say('import.addedOf', { what: countWords(what) })}</dt>
            <dd>{formatCount(count)}</dd>
          </div>
        ))}
        <div>
          <dt>{say('import.joinedToOne')}</dt>
          <dd>{formatCount(report.joined)}</dd>
        </div>
        <div>
          <dt>{say('import.inBookAlready')}</dt>
          <dd>{formatCount(report.skipped)}</dd>
        </div>
        <div data-bad={report.badRows > 0 || undefined}>
          <dt>
            {report.badRows > 0 ? '▲ ' : ''}
            {say('import.rowsLeftOut')}
          </dt>
          <dd>{formatCount(report.badRows)}</dd>
        </div>
        <div>
          <dt>{say('import.ignored')}</dt>
          <dd>{formatCount(report.ignoredRows)}</dd>
        </div>
      </dl>
      {report.warnings.length === 0 ? null : (
        <ul className="import-warnings">
          {report.warnings.map((warning) => (
            <li key={JSON.stringify(warning)}>{sayTold(warning)}</li>
          ))}
        </ul>
      )}
      <p className="report-acts">
        <ButtonLink look="primary" href="#/office">
          {say('import.openClients')}
        </ButtonLink>
        <Button onPress={onAgain}>{say('import.another')}</Button>
        {report.badRows > 0 && file !== null ? (
          <Button onPress={saveProblems}>{say('import.saveLeftOut')}</Button>
        ) : null}
      </p>
      <Tabs
        label={say('import.rowsOfImport')}
        tabs={[
          {
            id: 'outcomes',
            label: say('import.whatBecame'),
            content:
              report.outcomes.length === 0 ? (
                <EmptyState title={say('import.noRowWent')} />
              ) : (
                <RowList
                  label={say('import.whatBecame')}
                  rows={report.outcomes}
                  template="72px minmax(110px, 170px) 1fr"
                  columns={[
                    { label: say('import.row'), figure: true, of: (row) => formatCount(row.row) },
                    { label: say('import.outcome'), of: (row) => say(`import.outcome.${row.outcome}`) },
                    { label: say('import.what'), of: (row) => sayTold(row.what) },
                  ]}
                />
              ),
          },
          {
            id: 'problems',
            label: say('import.rowsLeftOutCount', { count: report.badRows }),
            content:
              report.problems.length === 0 ? (
                <EmptyState title={say('import.noRowLeftOut')} />
              ) : (
                <RowList
                  label={say('import.problems')}
                  rows={report.problems}
                  template="72px minmax(110px, 1fr) minmax(120px, 1.3fr) minmax(180px, 2.4fr)"
                  columns={[
                    { label: say('import.row'), figure: true, of: (row) => formatCount(row.row) },
                    { label: say('import.column'), of: (row) => row.column },
                    { label: say('import.value'), of: (row) => (row.value === '' ? say('import.empty') : row.value) },
                    { label: say('import.whatToMend'), of: (row) => sayTold(row.reason) },
                  ]}
                />
              ),
          },
        ]}
      />
    </Section>
  );
}
