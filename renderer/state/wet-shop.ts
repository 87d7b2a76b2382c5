import { dyeSchema, type Dye } from '../../core/finish/colour-book.ts';
import { bathRecordSchema, type BathRecord } from '../../core/shop/bath-record.ts';
import { dipRecordSchema, type DipRecord } from '../../core/shop/dip-record.ts';
import type { PhotoRow, ShopDatabase } from './shop-database.ts';
import { openShelf, type Shelf } from './shop-shelf.ts';

/** The wet side of the shop's book: baths with their history, dyes, the colour book with its pictures. */
export interface WetShop {
  readonly baths: Shelf<BathRecord>;
  readonly dyes: Shelf<Dye>;
  readonly dips: Shelf<DipRecord>;
  keepPhoto(photo: PhotoRow): Promise<void>;
  photo(id: string): Promise<PhotoRow | undefined>;
  removeDip(dip: DipRecord): Promise<void>;
}

export function openWetShop(database: ShopDatabase, onTrouble: (fault: unknown) => void): WetShop {
  const dips = openShelf(database.dips, dipRecordSchema, onTrouble);
  return {
    baths: openShelf(database.baths, bathRecordSchema, onTrouble),
    dyes: openShelf(database.dyes, dyeSchema, onTrouble),
    dips,
    async keepPhoto(photo) {
      await database.photos.put(photo);
    },
    photo: (id) => database.photos.get(id),
    async removeDip(dip) {
      await dips.remove(dip.id);
      if (dip.photoId !== null) await database.photos.delete(dip.photoId);
    },
  };
}
