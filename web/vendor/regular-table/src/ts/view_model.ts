// ░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░
// ░░░░░░░░░░▄▀░█▀▄░█▀▀░█▀▀░█░█░█░░░█▀█░█▀▄░░░░░▀█▀░█▀█░█▀▄░█░░░█▀▀░▀▄░░░░░░░░░░
// ░░░░░░░░░▀▄░░█▀▄░█▀▀░█░█░█░█░█░░░█▀█░█▀▄░▀▀▀░░█░░█▀█░█▀▄░█░░░█▀▀░░▄▀░░░░░░░░░
// ░░░░░░░░░░░▀░▀░▀░▀▀▀░▀▀▀░▀▀▀░▀▀▀░▀░▀░▀░▀░░░░░░▀░░▀░▀░▀▀░░▀▀▀░▀▀▀░▀░░░░░░░░░░░
// ░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░
// ┏━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┓
// ┃  *  Copyright (c) 2020, the Regular Table Authors. This file is part   *  ┃
// ┃  *  of the Regular Table library, distributed under the terms of the   *  ┃
// ┃  *  [Apache License 2.0](https://www.apache.org/licenses/LICENSE-2.0). *  ┃
// ┗━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┛

import { CellMetadata, CellMetadataBuilder, ColumnSizes } from "./types";

// Singleton `WeakMap`s to store metadata for td/th elements, as well as the
// datagrids themselves for each `<perspective-viewer>`
export const METADATA_MAP: WeakMap<HTMLElement, CellMetadata> = new WeakMap();

// Tracks the `size_key` currently encoded in a cell's `rt-col-{size_key}`
// class, so `_tagColumn` can cheaply detect when a pooled cell changes columns
// without a DOM read. Module-level so `thead`/`tbody` models and the event
// model share one tracker.
export const COLUMN_TAG_MAP: WeakMap<Element, number> = new WeakMap();

/******************************************************************************
 *
 * View Model
 *
 */

export class ViewModel {
    protected _column_sizes: ColumnSizes;
    protected _container: HTMLElement;
    public table: HTMLElement;
    public cells: (HTMLTableCellElement | undefined)[][];
    public rows: HTMLTableRowElement[];

    constructor(
        column_sizes: ColumnSizes,
        container: HTMLElement,
        table: HTMLElement,
    ) {
        this._column_sizes = column_sizes;
        this._container = container;
        this.table = table;
        this.cells = [];
        this.rows = [];
    }

    num_columns(): number {
        return this._get_row(Math.max(0, this.rows.length - 1)).row_container
            .length;
    }

    num_rows(): number {
        return this.cells.length;
    }

    _set_metadata(td: HTMLTableCellElement, metadata: CellMetadata): void {
        METADATA_MAP.set(td, metadata);
    }

    /**
     * Tag a cell with a stable, position-independent `rt-col-{size_key}` class
     * identifying its logical column, so generated width rules can target it
     * without `:nth-of-type`. Only rewrites the class when the cell actually
     * changes columns (horizontal scroll), so vertical scroll adds no churn.
     *
     * Body cells are tagged only when their column's width must reach them (an
     * override clamp on clipped cells) — header cells alone carry the auto
     * `min-width` floor, keeping the rule-matched element set small.
     */
    _tagColumn(cell: HTMLTableCellElement, size_key: number): void {
        const prev = COLUMN_TAG_MAP.get(cell);
        if (prev === size_key) {
            return;
        }

        if (prev !== undefined) {
            cell.classList.remove(`rt-col-${prev}`);
        }

        cell.classList.add(`rt-col-${size_key}`);
        COLUMN_TAG_MAP.set(cell, size_key);
    }

    /**
     * Remove a cell's `rt-col-{size_key}` column tag — used when a pooled cell
     * is (re)drawn as a merged group header (spans columns, must not carry a
     * width) or as a body cell that no longer needs its column's clamp.
     */
    _untagColumn(cell: HTMLTableCellElement): void {
        const prev = COLUMN_TAG_MAP.get(cell);
        if (prev === undefined) {
            return;
        }

        cell.classList.remove(`rt-col-${prev}`);
        COLUMN_TAG_MAP.delete(cell);
    }

    _get_or_create_metadata(
        td: HTMLTableCellElement | undefined,
    ): CellMetadataBuilder {
        if (!td) {
            return { value: undefined } as CellMetadataBuilder;
        }

        let metadata = METADATA_MAP.get(td);
        if (!metadata) {
            metadata = { value: undefined } as CellMetadata;
            METADATA_MAP.set(td, metadata);
        }

        return metadata;
    }

    _replace_cell(
        ridx: number,
        cidx: number,
    ): HTMLTableCellElement | undefined {
        const { tr, row_container } = this._get_row(ridx);
        let td = row_container[cidx];
        if (td) {
            tr.removeChild(td);
            row_container.splice(cidx, 1, undefined);
        }
        return td;
    }

    _fetch_cell(ridx: number, cidx: number): HTMLTableCellElement | undefined {
        if (ridx < 0 || cidx < 0) {
            return;
        }

        return this.cells[ridx]?.[cidx];
    }

    _get_row(ridx: number): {
        tr: HTMLTableRowElement;
        row_container: (HTMLTableCellElement | undefined)[];
    } {
        let tr = this.rows[ridx];
        if (!tr) {
            tr = this.rows[ridx] = document.createElement("tr");
            this.table.appendChild(tr);
        }

        let row_container = this.cells[ridx];
        if (!row_container) {
            row_container = this.cells[ridx] = [];
        }

        return { tr, row_container };
    }

    _get_cell(tag = "TD", ridx: number, cidx: number): HTMLTableCellElement {
        const { tr, row_container } = this._get_row(ridx);
        let td = row_container[cidx];
        if (!td) {
            if (cidx < row_container.length) {
                td = row_container[cidx] = document.createElement(
                    tag,
                ) as HTMLTableCellElement;
                const nextCell = row_container.slice(cidx + 1).find((x) => x);
                tr.insertBefore(td, nextCell || null);
            } else {
                td = row_container[cidx] = document.createElement(
                    tag,
                ) as HTMLTableCellElement;
                tr.appendChild(td);
            }
        }

        if (td.tagName !== tag) {
            const new_td = document.createElement(tag) as HTMLTableCellElement;
            tr.replaceChild(new_td, td);
            this.cells[ridx].splice(cidx, 1, new_td);
            td = new_td;
        }

        return td;
    }

    _clean_columns(cidx: number | number[]): void {
        for (let i = 0; i < this.rows.length; i++) {
            const tr = this.rows[i];
            const row_container = this.cells[i];
            row_container.length = (Array.isArray(cidx) ? cidx[i] : cidx) || 0;
            const idx = this.cells[i].filter((x) => x !== undefined).length;
            const toRemove: Element[] = [];
            for (let j = idx; j < tr.children.length; j++) {
                toRemove.push(tr.children[j]);
            }

            for (const node of toRemove) {
                node.remove();
            }
        }
    }

    _clean_rows(ridx: number): void {
        ridx = Math.min(ridx, this.rows.length);

        // Batch collect rows to remove, then remove all at once
        const toRemove: Element[] = [];
        for (let i = ridx; i < this.table.children.length; i++) {
            toRemove.push(this.table.children[i]);
        }

        for (const node of toRemove) {
            node.remove();
        }

        this.rows.length = ridx;
        this.cells.length = ridx;
    }
}
