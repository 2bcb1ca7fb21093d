import { Section, SelectField, SwitchField } from '../../parts/index.ts';
import { dateOrders, delimiters, delimiterWord, encodings } from './import-lists.ts';
import type { Preview } from './import-files.ts';
import type { Import, Reading } from './use-import.ts';
import { say, sayError, sayTold } from '../../state/say.ts';

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
      title={say('import.step2')}
      note={say('import.readAs', {
        rows: preview.rowCount,
        columns: preview.columns.length,
        encoding: preview.encoding,
        delimiter: delimiterWord(preview.delimiter),
      })}
    >
      <details className="read-options">
        <summary>{say('import.looksWrong')}</summary>
        <div className="form-grid">
          <SelectField
            label={say('import.encoding')}
            value={work.reading.encoding}
            onChange={(encoding) => work.readAs({ encoding: encoding as Reading['encoding'] })}
            options={encodings()}
          />
          <SelectField
            label={say('import.between')}
            value={work.reading.delimiter}
            onChange={(delimiter) => work.readAs({ delimiter: delimiter as Reading['delimiter'] })}
            options={delimiters()}
          />
          <SelectField
            label={say('import.dateOrder')}
            value={work.reading.dateOrder}
            onChange={(dateOrder) => work.readAs({ dateOrder: dateOrder as Reading['dateOrder'] })}
            options={dateOrders()}
          />
          <SwitchField
            label={say('import.firstRowNames')}
            value={work.reading.hasHeader}
            onChange={(hasHeader) => work.readAs({ hasHeader })}
          />
        </div>
      </details>
      {missing.length === 0 ? null : (
        <p className="needed-fields">
          {say('import.notMatched', { fields: missing.map(({ label }) => sayTold(label)) })}
        </p>
      )}
      <div className="table-scroll">
        <table className="data match-table">
          <thead>
            <tr>
              <th scope="col">{say('import.inTheFile')}</th>
              <th scope="col">{say('import.firstValues')}</th>
              <th scope="col">{say('import.goesTo')}</th>
              <th scope="col">{say('import.howKnown')}</th>
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
                      <span className="quiet">{say('import.emptyColumn')}</span>
                    ) : (
                      column.samples.slice(0, 3).map((sample, index) => <span key={index}>{sample}</span>)
                    )}
                  </td>
                  <td>
                    <SelectField
                      label={say('import.columnGoesTo', { name })}
                      hideLabel
                      value={field}
                      onChange={(next) => work.matchColumn(column.index, next)}
                      error={work.failure?.field === `mapping.${column.index}` ? sayError(work.failure) : null}
                      options={[
                        { id: '', label: say('import.leaveOut') },
                        ...preview.fields.map((one) => ({ id: one.name, label: optionLabel(one, used, field, name) })),
                      ]}
                    />
                  </td>
                  <td className={`match-how ${column.how}`}>{say(`import.how.${column.how}`)}</td>
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
  return header === '' ? say('import.columnNumber', { number: index + 1 }) : header;
}

function optionLabel(
  field: Preview['fields'][number],
  used: ReadonlyMap<string, string>,
  current: string,
  name: string,
): string {
  const by = used.get(field.name);
  const needed = field.required ? say('parts.needed') : '';
  return by === undefined || field.name === current || by === name
    ? `${sayTold(field.label)}${needed}`
    : say('import.nowFrom', { field: `${sayTold(field.label)}${needed}`, column: by });
}
