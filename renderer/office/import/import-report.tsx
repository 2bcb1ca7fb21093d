import { useEffect, useRef } from 'react';
import { Button, ButtonLink, EmptyState, formatCount, plural, Section, Tabs } from '../../parts/index.ts';
import { countWords } from '../../parts/count-words.ts';
import { mendingCsv, saveText } from './import-files.ts';
import type { Preview, Report } from './import-files.ts';
import { RowList } from './row-list.tsx';

const OUTCOMES = { added: 'Added', joined: 'Joined', skipped: 'In the book already' } as const;

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
      headers.map(({ header, index }) => (header === '' ? `Column ${index + 1}` : header)),
    ).then((text) => saveText(`${file.name.replace(/\.[^.]+$/, '')}-to-mend.csv`, text));
  };
  return (
    <Section title={!report.applied ? 'Nothing was imported' : total === 0 ? 'Nothing new in this file' : 'Imported'}>
      <div role="status" ref={said} tabIndex={-1} className="report">
        <p className="report-words">
          {!report.applied
            ? `${plural(report.badRows, 'row has', 'rows have')} a problem, and you asked for every row or none. The book is as it was.`
            : total === 0
              ? 'Every good row was in the book already, so nothing was added. That is how the same file imported twice should end.'
              : `Added from ${file?.name ?? 'the file'}: ${added.map(([what, count]) => `${formatCount(count)} ${countWords(what)}`).join(', ')}.`}
        </p>
      </div>
      <dl className="tally">
        {added.map(([what, count]) => (
          <div key={what} data-add>
            <dt>{countWords(what)} added</dt>
            <dd>{formatCount(count)}</dd>
          </div>
        ))}
        <div>
          <dt>joined to one in the book</dt>
          <dd>{formatCount(report.joined)}</dd>
        </div>
        <div>
          <dt>in the book already</dt>
          <dd>{formatCount(report.skipped)}</dd>
        </div>
        <div data-bad={report.badRows > 0 || undefined}>
          <dt>{report.badRows > 0 ? '▲ ' : ''}rows left out</dt>
          <dd>{formatCount(report.badRows)}</dd>
        </div>
        <div>
          <dt>ignored</dt>
          <dd>{formatCount(report.ignoredRows)}</dd>
        </div>
      </dl>
      {report.warnings.length === 0 ? null : (
        <ul className="import-warnings">
          {report.warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
      <p className="report-acts">
        <ButtonLink look="primary" href="#/office">
          Open the clients
        </ButtonLink>
        <Button onPress={onAgain}>Import another list</Button>
        {report.badRows > 0 && file !== null ? (
          <Button onPress={saveProblems}>Save the rows left out as CSV</Button>
        ) : null}
      </p>
      <Tabs
        label="Rows of the import"
        tabs={[
          {
            id: 'outcomes',
            label: 'What became of each row',
            content:
              report.outcomes.length === 0 ? (
                <EmptyState title="No row went into the book" />
              ) : (
                <RowList
                  label="What became of each row"
                  rows={report.outcomes}
                  template="72px minmax(110px, 170px) 1fr"
                  columns={[
                    { label: 'Row', figure: true, of: (row) => formatCount(row.row) },
                    { label: 'Outcome', of: (row) => OUTCOMES[row.outcome] },
                    { label: 'What', of: (row) => row.what },
                  ]}
                />
              ),
          },
          {
            id: 'problems',
            label: `Rows left out (${formatCount(report.badRows)})`,
            content:
              report.problems.length === 0 ? (
                <EmptyState title="No row was left out" />
              ) : (
                <RowList
                  label="Problems"
                  rows={report.problems}
                  template="72px minmax(110px, 1fr) minmax(120px, 1.3fr) minmax(180px, 2.4fr)"
                  columns={[
                    { label: 'Row', figure: true, of: (row) => formatCount(row.row) },
                    { label: 'Column', of: (row) => row.column },
                    { label: 'Value', of: (row) => (row.value === '' ? '(empty)' : row.value) },
                    { label: 'What to mend', of: (row) => row.reason },
                  ]}
                />
              ),
          },
        ]}
      />
    </Section>
  );
}
