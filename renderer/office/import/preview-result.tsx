import { Button, EmptyState, formatCount, Section, Tabs } from '../../parts/index.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { countWords } from '../../parts/count-words.ts';
import { mendingCsv, saveText } from './import-files.ts';
import type { Preview } from './import-files.ts';
import { RowList } from './row-list.tsx';
import { say, sayTold } from '../../state/say.ts';
import { PLAIN_READER, sayFact } from '../../../core/text/say.ts';

/** Third step: what the import would do, and every row that stands in its way. */
export function PreviewResult({ preview, file, stale }: { preview: Preview; file: File; stale: boolean }) {
  const adds = Object.entries(preview.wouldAdd).filter(([, count]) => count > 0);
  const saveProblems = () =>
    void mendingCsv(
      file,
      preview,
      preview.columns.map(({ header, index }) =>
        header === '' ? say('import.columnNumber', { number: index + 1 }) : header,
      ),
    ).then((text) => saveText(`${file.name.replace(/\.[^.]+$/, '')}-${say('import.toMendFile')}.csv`, text));
  return (
    <Section title={say('import.step3')}>
      <div aria-busy={stale} className={stale ? 'stale' : ''}>
        <dl className="tally">
          <div>
            <dt>{say('import.goodRows')}</dt>
            <dd>{formatCount(preview.goodRows)}</dd>
          </div>
          <div data-bad={preview.badRows > 0 || undefined}>
            <dt>
              {preview.badRows > 0 ? '▲ ' : ''}
              {say('import.rowsToMend')}
            </dt>
            <dd>{formatCount(preview.badRows)}</dd>
          </div>
          <div>
            <dt>{say('import.ignored')}</dt>
            <dd>{formatCount(preview.ignoredRows)}</dd>
          </div>
          {adds.map(([what, count]) => (
            <div key={what} data-add>
              <dt>{say('import.addedOf', { what: countWords(what) })}</dt>
              <dd>{formatCount(count)}</dd>
            </div>
          ))}
          <div data-add>
            <dt>{say('import.joinedToOne')}</dt>
            <dd>{formatCount(preview.wouldJoin)}</dd>
          </div>
          <div data-add>
            <dt>{say('import.inBookAlready')}</dt>
            <dd>{formatCount(preview.wouldSkip)}</dd>
          </div>
        </dl>
        {preview.warnings.length === 0 ? null : (
          <ul className="import-warnings">
            {preview.warnings.map((warning) => (
              <li key={JSON.stringify(warning)}>{sayTold(warning)}</li>
            ))}
          </ul>
        )}
        <Tabs
          label={say('import.rowsOfFile')}
          tabs={[
            {
              id: 'problems',
              label: say('import.rowsToMendCount', { count: preview.badRows }),
              content:
                preview.problems.length === 0 ? (
                  <EmptyState title={say('import.everyRowGood')}>{say('import.nothingInWay')}</EmptyState>
                ) : (
                  <>
                    <p className="tab-lead">
                      <Button onPress={saveProblems}>{say('import.saveTheseRows')}</Button>
                      <span className="small quiet">
                        {say('import.mendThere')} {preview.problems.length >= 2000 ? ` ${say('import.first2000')}` : ''}
                      </span>
                    </p>
                    <RowList
                      label={say('import.problems')}
                      rows={preview.problems}
                      template="72px minmax(110px, 1fr) minmax(120px, 1.3fr) minmax(180px, 2.4fr)"
                      columns={[
                        { label: say('import.row'), figure: true, of: (row) => formatCount(row.row) },
                        { label: say('import.column'), of: (row) => row.column },
                        {
                          label: say('import.value'),
                          of: (row) => (row.value === '' ? say('import.empty') : row.value),
                        },
                        { label: say('import.whatToMend'), of: (row) => sayTold(row.reason) },
                      ]}
                    />
                  </>
                ),
            },
            {
              id: 'sample',
              label: say('import.firstAsSaved'),
              content:
                preview.sample.length === 0 ? (
                  <EmptyState title={say('import.noRowYet')}>{say('import.matchAbove')}</EmptyState>
                ) : (
                  <SampleTable preview={preview} />
                ),
            },
            {
              id: say('import.ignored'),
              label: say('import.ignoredCount', { count: preview.ignoredRows }),
              content:
                preview.ignored.length === 0 ? (
                  <EmptyState title={say('import.noRowIgnored')}>{say('import.ignoredHere')}</EmptyState>
                ) : (
                  <RowList
                    label={say('import.ignoredRows')}
                    rows={preview.ignored}
                    template="72px 1fr"
                    columns={[
                      { label: say('import.row'), figure: true, of: (row) => formatCount(row.row) },
                      { label: say('import.why'), of: (row) => sayTold(row.why) },
                    ]}
                  />
                ),
            },
          ]}
        />
        {preview.rowCount === 0 ? (
          <p className="quiet">{say('import.noRows', { ignored: preview.ignoredRows })}</p>
        ) : null}
      </div>
    </Section>
  );
}

function SampleTable({ preview }: { preview: Preview }) {
  const names = [...new Set(preview.sample.flatMap((row) => Object.keys(row)))].filter((name) =>
    preview.sample.some((row) => (row[name] ?? '') !== ''),
  );
  // The rows are headed as the fields are, in English.
  const labels = new Map(preview.fields.map(({ label }) => [sayFact(PLAIN_READER, label), sayTold(label)]));
  return (
    <ScrollRegion label={say('import.firstWouldBe')}>
      <table className="data">
        <thead>
          <tr>
            {names.map((name) => (
              <th key={name} scope="col">
                {labels.get(name) ?? name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {preview.sample.map((row, index) => (
            <tr key={index}>
              {names.map((name) => (
                <td key={name}>{row[name] ?? ''}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
