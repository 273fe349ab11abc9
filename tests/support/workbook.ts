import writeWorkbookFile from 'write-excel-file/universal';

/** What a test puts into a cell of a workbook. */
export type TestCell = string | number | boolean | Date | undefined;

/** The bytes of an XLSX workbook with these sheets. */
export async function workbook(
  sheets: Readonly<Record<string, readonly (readonly TestCell[])[]>>,
): Promise<Uint8Array> {
  const written = writeWorkbookFile(
    Object.entries(sheets).map(([sheet, rows]) => ({
      sheet,
      data: rows.map((row) =>
        row.map((value) =>
          value === undefined
            ? null
            : value instanceof Date
              ? { value, type: Date, format: 'dd.mm.yyyy' }
              : { value },
        ),
      ),
    })) as never,
  );
  return new Uint8Array(await (await written.toBlob()).arrayBuffer());
}
