import { Button, EmptyState, formatCount, plural, Section, Tabs } from '../../parts/index.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { countWords } from '../../parts/count-words.ts';
import { mendingCsv, saveText } from './import-files.ts';
import type { Preview } from './import-files.ts';
import { RowList } from './row-list.tsx';

/** Third step: what the import would do, and every row that stands in its way. */
export function PreviewResult({ preview, file, stale }: { preview: Preview; file: File; stale: boolean }) {
  const adds = Object.entries(preview.wouldAdd).filter(([, count]) => count > 0);
  const saveProblems = () =>
    void mendingCsv(
      file,
      preview,
      preview.columns.map(({ header, index }) => (header === '' ? `Column ${index + 1}` : header)),
    ).then((text) => saveText(`${file.name.replace(/\.[^.]+$/, '')}-to-mend.csv`, text));
  return (
    <Section title="3. What would happen">
      <div aria-busy={stale} className={stale ? 'stale' : ''}>
        <dl className="tally">
          <div>
            <dt>good rows</dt>
            <dd>{formatCount(preview.goodRows)}</dd>
          </div>
          <div data-bad={preview.badRows > 0 || undefined}>
            <dt>{preview.badRows > 0 ? '▲ ' : ''}rows to mend</dt>
            <dd>{formatCount(preview.badRows)}</dd>
          </div>
          <div>
            <dt>ignored</dt>
            <dd>{formatCount(preview.ignoredRows)}</dd>
          </div>
          {adds.map(([what, count]) => (
            <div key={what} data-add>
              <dt>{countWords(what)} added</dt>
              <dd>{formatCount(count)}</dd>
            </div>
          ))}
          <div data-add>
            <dt>joined to one in the book</dt>
            <dd>{formatCount(preview.wouldJoin)}</dd>
          </div>
          <div data-add>
            <dt>in the book already</dt>
            <dd>{formatCount(preview.wouldSkip)}</dd>
          </div>
        </dl>
        {preview.warnings.length === 0 ? null : (
          <ul className="import-warnings">
            {preview.warnings.map((warning) => (
              <li key={warning}>{warning}</li>
            ))}
          </ul>
        )}
        <Tabs
          label="Rows of the file"
          tabs={[
            {
              id: 'problems',
              label: `Rows to mend (${formatCount(preview.badRows)})`,
              content:
                preview.problems.length === 0 ? (
                  <EmptyState title="Every row is good">Nothing stands in the way.</EmptyState>
                ) : (
                  <>
                    <p className="tab-lead">
                      <Button onPress={saveProblems}>Save these rows as CSV</Button>
                      <span className="small quiet">
                        Mend them there and import that file: what is in the book already is not added twice.
                        {preview.problems.length >= 2000 ? ' The first 2,000 problems are listed.' : ''}
                      </span>
                    </p>
                    <RowList
                      label="Problems"
                      rows={preview.problems}
                      template="72px minmax(110px, 1fr) minmax(120px, 1.3fr) minmax(180px, 2.4fr)"
                      columns={[
                        { label: 'Row', figure: true, of: (row) => formatCount(row.row) },
                        { label: 'Column', of: (row) => row.column },
                        { label: 'Value', of: (row) => (row.value === '' ? '(empty)' : row.value) },
                        { label: 'What to mend', of: (row) => row.reason },
                      ]}
                    />
                  </>
                ),
            },
            {
              id: 'sample',
              label: 'First rows as saved',
              content:
                preview.sample.length === 0 ? (
                  <EmptyState title="No row can be saved yet">
                    Match the columns above, or mend the rows listed.
                  </EmptyState>
                ) : (
                  <SampleTable preview={preview} />
                ),
            },
            {
              id: 'ignored',
              label: `Ignored (${formatCount(preview.ignoredRows)})`,
              content:
                preview.ignored.length === 0 ? (
                  <EmptyState title="No row was ignored">
                    Blank lines, totals and repeated headers would be listed here.
                  </EmptyState>
                ) : (
                  <RowList
                    label="Ignored rows"
                    rows={preview.ignored}
                    template="72px 1fr"
                    columns={[
                      { label: 'Row', figure: true, of: (row) => formatCount(row.row) },
                      { label: 'Why', of: (row) => row.why },
                    ]}
                  />
                ),
            },
          ]}
        />
        {preview.rowCount === 0 ? (
          <p className="quiet">
            The file holds no rows
            {preview.ignoredRows > 0 ? ` besides ${plural(preview.ignoredRows, 'ignored one')}` : ''}.
          </p>
        ) : null}
      </div>
    </Section>
  );
}

function SampleTable({ preview }: { preview: Preview }) {
  const names = [...new Set(preview.sample.flatMap((row) => Object.keys(row)))].filter((name) =>
    preview.sample.some((row) => (row[name] ?? '') !== ''),
  );
  const labels = new Map(preview.fields.map(({ name, label }) => [name, label]));
  return (
    <ScrollRegion label="First rows as they would be saved">
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
