import { formatCount, plural, Section, SelectField, SwitchField } from '../../parts/index.ts';
import { DATE_ORDERS, DELIMITERS, delimiterWord, ENCODINGS } from './import-lists.ts';
import type { Preview } from './import-files.ts';
import type { Import, Reading } from './use-import.ts';

const HOW = { guessed: 'guessed', remembered: 'as last time', given: 'you chose', none: 'left out' } as const;

/** Second step: what each column means. */
export function MatchColumns({ work, preview }: { work: Import; preview: Preview }) {
  const used = new Map(
    preview.columns
      .filter(({ field }) => field !== '')
      .map(({ field, header, index }) => [field, columnName(header, index)]),
  );
  const missing = preview.fields.filter((field) => field.required && !used.has(field.name));
  return (
    <Section
      title="2. What the columns mean"
      note={`${plural(preview.rowCount, 'row')}, ${plural(preview.columns.length, 'column')}, read as ${preview.encoding} with ${delimiterWord(preview.delimiter)} between columns`}
    >
      <details className="read-options">
        <summary>Letters or columns look wrong? Change how the file is read</summary>
        <div className="form-grid">
          <SelectField
            label="Encoding"
            value={work.reading.encoding}
            onChange={(encoding) => work.readAs({ encoding: encoding as Reading['encoding'] })}
            options={ENCODINGS}
          />
          <SelectField
            label="Between columns"
            value={work.reading.delimiter}
            onChange={(delimiter) => work.readAs({ delimiter: delimiter as Reading['delimiter'] })}
            options={DELIMITERS}
          />
          <SelectField
            label="Order in dates"
            value={work.reading.dateOrder}
            onChange={(dateOrder) => work.readAs({ dateOrder: dateOrder as Reading['dateOrder'] })}
            options={DATE_ORDERS}
          />
          <SwitchField
            label="First row names the columns"
            value={work.reading.hasHeader}
            onChange={(hasHeader) => work.readAs({ hasHeader })}
          />
        </div>
      </details>
      {missing.length === 0 ? null : (
        <p className="needed-fields">
          Not matched yet: {missing.map(({ label }) => label).join(', ')}. Rows without it cannot be saved unless
          another column says the same.
        </p>
      )}
      <div className="table-scroll">
        <table className="data match-table">
          <thead>
            <tr>
              <th scope="col">In the file</th>
              <th scope="col">First values</th>
              <th scope="col">Goes to</th>
              <th scope="col">How known</th>
            </tr>
          </thead>
          <tbody>
            {preview.columns.map((column) => {
              const name = columnName(column.header, column.index);
              const field = work.mapping?.[String(column.index)] ?? column.field;
              return (
                <tr key={column.index} data-out={field === '' || undefined}>
                  <th scope="row">{name}</th>
                  <td className="match-samples">
                    {column.samples.length === 0 ? (
                      <span className="quiet">empty</span>
                    ) : (
                      column.samples.slice(0, 3).map((sample, index) => <span key={index}>{sample}</span>)
                    )}
                  </td>
                  <td>
                    <SelectField
                      label={`${name} goes to`}
                      hideLabel
                      value={field}
                      onChange={(next) => work.matchColumn(column.index, next)}
                      error={work.failure?.field === `mapping.${column.index}` ? work.failure.message : null}
                      options={[
                        { id: '', label: 'Leave out' },
                        ...preview.fields.map((one) => ({ id: one.name, label: optionLabel(one, used, field, name) })),
                      ]}
                    />
                  </td>
                  <td className={`match-how ${column.how}`}>{HOW[column.how]}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
    </Section>
  );
}

function columnName(header: string, index: number): string {
  return header === '' ? `Column ${formatCount(index + 1)}` : header;
}

function optionLabel(
  field: Preview['fields'][number],
  used: ReadonlyMap<string, string>,
  current: string,
  name: string,
): string {
  const by = used.get(field.name);
  const needed = field.required ? ' (needed)' : '';
  return by === undefined || field.name === current || by === name
    ? `${field.label}${needed}`
    : `${field.label}${needed}, now from ${by}`;
}
