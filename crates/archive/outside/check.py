"""An exported archive before two general readers of Parquet, and its figures counted again by one of them.

check.py EXPORTED-FOLDER FIGURES.json
"""
import csv
import json
import sys
from pathlib import Path

import duckdb
import pyarrow as pa
import pyarrow.parquet as pq

TYPES = {"string": pa.string(), "integer": pa.int32(), "date": pa.date32()}


def main():
    folder, figures = Path(sys.argv[1]), json.loads(Path(sys.argv[2]).read_text(encoding="utf-8"))
    package = json.loads((folder / "datapackage.json").read_text(encoding="utf-8"))
    for resource in package["resources"]:
        described = resource["schema"]["fields"]
        file = folder / f"{resource['name']}.parquet"
        table = pq.read_table(file)
        names, kinds = [field["name"] for field in described], [TYPES[field["type"]] for field in described]
        assert table.schema.names == names, (table.schema.names, names)
        assert table.schema.types == kinds, (table.schema.types, kinds)
        with open(folder / resource["path"], newline="", encoding="utf-8") as text:
            rows = list(csv.reader(text))
        assert rows[0] == names and len(rows) == table.num_rows + 1 and table.num_rows > 0
        for line, row in zip(rows[1:], table.to_pylist()):
            written = ["" if value is None else str(value) for value in row.values()]
            assert [cell.removeprefix("'") for cell in line] == [cell.removeprefix("'") for cell in written], (line, row)
        for field in described:
            if field.get("constraints", {}).get("required"):
                column = table.column(field["name"])
                assert column.null_count == 0 and "" not in column.to_pylist(), field["name"]
        readable = (folder / "README.md").read_text(encoding="utf-8")
        assert all(f"`{name}`" in readable for name in names)
        print(f"{resource['name']}: {table.num_rows} rows, the same in Parquet (pyarrow {pa.__version__}) and CSV")

    count = duckdb.sql(f"""
        select point, kind, age_band, region, count(*) as jobs,
            count(*) filter (where outcome = 'examined') as examined,
            count(*) filter (where outcome = 'not examined') as not_examined,
            count(*) filter (where outcome = 'not fitted') as not_fitted,
            count(*) filter (where outcome = 'nothing entered') as nothing_entered,
            count(*) filter (where outcome = 'examined' and finding = 'confirmed') as found,
            count(*) filter (where outcome = 'examined' and finding = 'draft') as draft,
            count(*) filter (where outcome = 'examined' and verdict = 'does not conform') as not_conforming,
            count(*) filter (where outcome = 'examined' and held <> '') as held
        from '{folder}/points.parquet' join '{folder}/jobs.parquet' using (job)
        group by point, kind, age_band, region
    """)
    names = ["age" if name == "age_band" else name for name in count.columns]
    counted = {row[:4]: dict(zip(names, row)) for row in count.fetchall()}
    said = {tuple(line[name] for name in ("point", "kind", "age", "region")): line for line in figures["figures"]}
    assert counted.keys() == said.keys(), counted.keys() ^ said.keys()
    for key, row in counted.items():
        for name, value in row.items():
            assert said[key][name] == value, (key, name, value, said[key][name])
    assert sum(row["examined"] for row in counted.values()) > 0
    print(f"figures: {len(counted)} lines as DuckDB {duckdb.__version__} counts them")


main()
