import { useEffect } from 'react'
import type { Shop } from '../../engine/documents/shop.ts'
import { KeptLine, TwoScreens, WhoseShop } from '../parts/shop-bar.tsx'
import { useDocuments } from '../state/documents.tsx'
import { useOpenPath } from '../state/open-path.ts'
import { Casting } from './shop/casting.tsx'
import { Copies } from './shop/copies.tsx'
import { Flasks } from './shop/flasks.tsx'
import { Investments } from './shop/investments.tsx'
import { Kilns, Scales } from './shop/kiln-and-scales.tsx'
import { Place } from './shop/place.tsx'
import { Prices } from './shop/prices.tsx'
import { ClockAndFinishing, Rules } from './shop/rules.tsx'
import { Alloys, Waxes } from './shop/waxes-and-metals.tsx'

export const ShopPage = () => {
  useOpenPath()
  useEffect(() => {
    document.title = 'Shop · Pourwright'
  }, [])
  const { shop } = useDocuments()
  return (
    <>
      <TwoScreens />
      <WhoseShop />
      <main className="page narrow-page shop-page" id="main">
        <div className="tp">
          <h1>Shop</h1>
          <span className="muted">
            {shopName(shop)}What every plan rests on. Blue is yours to change; a double rule was measured
            here.
          </span>
          <span className="sp" />
          <KeptLine />
        </div>
        <Place />
        <Scales />
        <Flasks />
        <Kilns />
        <Casting />
        <Investments />
        <Waxes />
        <Alloys />
        <Rules />
        <ClockAndFinishing />
        <Prices />
        <Copies />
      </main>
    </>
  )
}

const shopName = (shop: Shop): string => (shop.name === 'My shop' ? '' : `${shop.name}. `)
