import { hangerRecordSchema, type HangerRecord } from '../../core/shop/hanger-record.ts';
import { tankRecordSchema, type TankRecord } from '../../core/shop/tank-record.ts';
import type { ShopDatabase } from './shop-database.ts';
import { openShelf, type Shelf } from './shop-shelf.ts';

/** Tanks and hanger stock of the shop's book; supplies stand with the runs that read them. */
export interface RackShop {
  readonly tanks: Shelf<TankRecord>;
  readonly hangers: Shelf<HangerRecord>;
}

export function openRackShop(database: ShopDatabase, onTrouble: (fault: unknown) => void): RackShop {
  return {
    tanks: openShelf(database.tanks, tankRecordSchema, onTrouble),
    hangers: openShelf(database.hangers, hangerRecordSchema, onTrouble),
  };
}
