import { hangerRecordSchema, type HangerRecord } from '../../core/shop/hanger-record.ts';
import { supplyRecordSchema, type SupplyRecord } from '../../core/shop/supply-record.ts';
import { tankRecordSchema, type TankRecord } from '../../core/shop/tank-record.ts';
import type { ShopDatabase } from './shop-database.ts';
import { openShelf, type Shelf } from './shop-shelf.ts';

/** Tanks, supplies and hanger stock of the shop's book. */
export interface RackShop {
  readonly tanks: Shelf<TankRecord>;
  readonly supplies: Shelf<SupplyRecord>;
  readonly hangers: Shelf<HangerRecord>;
}

export function openRackShop(database: ShopDatabase, onTrouble: (fault: unknown) => void): RackShop {
  return {
    tanks: openShelf(database.tanks, tankRecordSchema, onTrouble),
    supplies: openShelf(database.supplies, supplyRecordSchema, onTrouble),
    hangers: openShelf(database.hangers, hangerRecordSchema, onTrouble),
  };
}
