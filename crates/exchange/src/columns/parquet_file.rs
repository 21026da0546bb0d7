//! Columns as a Parquet file, uncompressed, so that any reader takes it.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::column::reader::{ColumnReader, ColumnReaderImpl};
use parquet::data_type::{ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::file::metadata::KeyValue;
use parquet::file::properties::WriterProperties;
use parquet::file::reader::{ChunkReader, FileReader, SerializedFileReader};
use parquet::file::writer::SerializedFileWriter;
use parquet::schema::types::{Type, TypePtr};

use super::{Column, Columns, ColumnsError, Values};

/// Most columns and rows that are read at once.
const MOST_COLUMNS: usize = 4096;
const MOST_ROWS: u64 = 200_000_000;

/// Rows that are asked of a column at once: what a damaged file promises is not believed before it is there.
const BATCH: usize = 1 << 14;

/// What units are kept under.
const UNIT: &str = "unit.";

/// What the format's own library says of itself where it wrote the file: nothing of the table.
const FOREIGN: &str = "ARROW:";

/// The file's bytes.
///
/// # Errors
/// Columns that do not fit each other; what the writer refuses.
pub fn write(table: &Columns) -> Result<Vec<u8>, ColumnsError> {
    table.check()?;
    let unwritten = |e: parquet::errors::ParquetError| ColumnsError::Unwritten(e.to_string());
    let fields: Result<Vec<TypePtr>, _> = table.columns.iter().map(|c| field(c).map(Arc::new)).collect();
    let fields = fields.map_err(unwritten)?;
    let schema = Type::group_type_builder("samples").with_fields(fields).build().map_err(unwritten)?;
    let units = table.columns.iter().filter_map(|c| Some((format!("{UNIT}{}", c.name), c.unit.clone()?)));
    let said = table.about.iter().cloned().chain(units).map(|(key, value)| KeyValue::new(key, value));
    let properties = WriterProperties::builder()
        .set_created_by("soapstone".into())
        .set_key_value_metadata(Some(said.collect()))
        .build();
    let mut bytes = Vec::new();
    let mut writer =
        SerializedFileWriter::new(&mut bytes, Arc::new(schema), Arc::new(properties)).map_err(unwritten)?;
    let mut group = writer.next_row_group().map_err(unwritten)?;
    for column in &table.columns {
        let Some(mut out) = group.next_column().map_err(unwritten)? else { break };
        match &column.values {
            Values::Number(v) => out.typed::<DoubleType>().write_batch(v, None, None),
            Values::Count(v) => {
                // The format's whole numbers are signed; the column says that these are not.
                let v: Vec<i64> = v.iter().map(|n| n.cast_signed()).collect();
                out.typed::<Int64Type>().write_batch(&v, None, None)
            }
            Values::Text(v) => {
                let v: Vec<ByteArray> = v.iter().map(|t| ByteArray::from(t.as_str())).collect();
                out.typed::<ByteArrayType>().write_batch(&v, None, None)
            }
        }
        .map_err(unwritten)?;
        out.close().map_err(unwritten)?;
    }
    group.close().map_err(unwritten)?;
    writer.close().map_err(unwritten)?;
    Ok(bytes)
}

fn field(column: &Column) -> Result<Type, parquet::errors::ParquetError> {
    let (physical, logical) = match column.values {
        Values::Number(_) => (Physical::DOUBLE, None),
        Values::Count(_) => (Physical::INT64, Some(LogicalType::integer(64, false))),
        Values::Text(_) => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
    };
    Type::primitive_type_builder(&column.name, physical)
        .with_repetition(Repetition::REQUIRED)
        .with_logical_type(logical)
        .build()
}

/// Reads a file that [`write`] could have made: numbers, whole numbers and text, none of them nested.
///
/// # Errors
/// A file that is damaged, too large, or of other kinds.
pub fn read(bytes: &[u8]) -> Result<Columns, ColumnsError> {
    let bytes = bytes::Bytes::copy_from_slice(bytes);
    // The reader is meant for sound files: what a damaged one makes it stumble over is told like any other damage.
    catch_unwind(AssertUnwindSafe(|| inside(bytes)))
        .unwrap_or_else(|_| Err(ColumnsError::Damaged("its inside does not fit together".into())))
}

fn damaged(e: &parquet::errors::ParquetError) -> ColumnsError {
    ColumnsError::Damaged(e.to_string())
}

fn inside<R: ChunkReader + 'static>(bytes: R) -> Result<Columns, ColumnsError> {
    let reader = SerializedFileReader::new(bytes).map_err(|e| damaged(&e))?;
    let about = reader.metadata().file_metadata();
    let rows = u64::try_from(about.num_rows()).unwrap_or(u64::MAX);
    let schema = about.schema_descr();
    if rows > MOST_ROWS || schema.num_columns() > MOST_COLUMNS {
        return Err(ColumnsError::Large { rows, columns: schema.num_columns() });
    }
    let said: Vec<(String, String)> = about
        .key_value_metadata()
        .into_iter()
        .flatten()
        .map(|kv| (kv.key.clone(), kv.value.clone().unwrap_or_default()))
        .collect();
    let mut columns = Vec::new();
    for (i, column) in schema.columns().iter().enumerate() {
        let name = column.name().to_string();
        let kind = |kind: String| ColumnsError::Kind { column: name.clone(), kind };
        if column.max_rep_level() > 0 || column.max_def_level() > 0 || column.path().parts().len() > 1 {
            return Err(kind("rows that may be missing, or lists".into()));
        }
        let mut values = match column.physical_type() {
            Physical::DOUBLE => Values::Number(Vec::new()),
            Physical::INT64 => Values::Count(Vec::new()),
            Physical::BYTE_ARRAY => Values::Text(Vec::new()),
            other => return Err(kind(other.to_string().to_lowercase())),
        };
        for group in 0..reader.num_row_groups() {
            let group = reader.get_row_group(group).map_err(|e| damaged(&e))?;
            let source = group.get_column_reader(i).map_err(|e| damaged(&e))?;
            match (&mut values, source) {
                (Values::Number(v), ColumnReader::DoubleColumnReader(source)) => {
                    all(source, |n| v.push(n), rows)?;
                }
                (Values::Count(v), ColumnReader::Int64ColumnReader(source)) => {
                    all(source, |n| v.push(n.cast_unsigned()), rows)?;
                }
                (Values::Text(v), ColumnReader::ByteArrayColumnReader(source)) => {
                    let mut bad = false;
                    all(
                        source,
                        |t: ByteArray| match t.as_utf8() {
                            Ok(text) => v.push(text.to_string()),
                            Err(_) => bad = true,
                        },
                        rows,
                    )?;
                    if bad {
                        return Err(kind("bytes that are no text".into()));
                    }
                }
                _ => return Err(ColumnsError::Damaged(format!("column {name} changes its kind"))),
            }
        }
        let unit = said.iter().find(|(k, _)| k.strip_prefix(UNIT) == Some(&name)).map(|(_, v)| v.clone());
        columns.push(Column { name, unit, values });
    }
    let about = said.into_iter().filter(|(k, _)| !k.starts_with(UNIT) && !k.starts_with(FOREIGN)).collect();
    let table = Columns { columns, about };
    table.check().map_err(|e| ColumnsError::Damaged(e.to_string()))?;
    Ok(table)
}

/// All values of a column in one group.
fn all<T: DataType>(
    mut source: ColumnReaderImpl<T>,
    mut take: impl FnMut(T::T),
    rows: u64,
) -> Result<(), ColumnsError> {
    let mut seen = 0u64;
    loop {
        let mut batch = Vec::new();
        let (records, ..) = source.read_records(BATCH, None, None, &mut batch).map_err(|e| damaged(&e))?;
        seen += batch.len() as u64;
        if records == 0 || batch.is_empty() {
            return Ok(());
        }
        if seen > rows {
            return Err(ColumnsError::Damaged("a column is longer than the file".into()));
        }
        batch.into_iter().for_each(&mut take);
    }
}
