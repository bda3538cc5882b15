package book

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// fleet returns n coaches as a large shop has them, all invented.
func fleet(n int) []Page {
	chance := rand.New(rand.NewPCG(3, 17))
	builders := []string{"Tarnholt", "Rickmark", "Lowmere", "Ashgill"}
	towns := []string{"Cold Elm", "Low Ferry", "Vale Road", "Penny Drift", "Jörlunde"}
	first := []string{"Adela", "Piers", "Runa", "Jörgen", "Maud", "Osric"}
	last := []string{"Brunskog", "Okonta", "Lindqvar", "Thornbeck", "Wendover"}
	pages := make([]Page, n)
	for i := range pages {
		pages[i] = Page{
			Coach: Coach{
				ID: fmt.Sprintf("%012X", chance.Uint64()>>16), Ledger: fmt.Sprintf("ledger %d", i),
				VIN:     fmt.Sprintf("GZ9T%c785X%cW%06d", 'A'+i%7, 'A'+i/7%7, chance.IntN(1000000)),
				Builder: builders[i%4], Model: fmt.Sprintf("Fellside %d", 60+i%40), Year: 1974 + i%50, Entries: i % 90,
				Day: fmt.Sprintf("20%02d-%02d-%02d", i%26, 1+i%12, 1+i%28), At: fmt.Sprintf("20%02d-%02d-%02dT10:00:00Z", i%26, 1+i%12, 1+i%28),
			},
			Finds: []Find{
				{KindCertificate, fmt.Sprintf("Q-%05d", i)},
				{KindPlate, fmt.Sprintf("CE %04d X", chance.IntN(10000))},
				{KindTown, towns[i%5]},
				{KindHolder, first[i%6] + " " + last[chance.IntN(5)]},
			},
		}
	}
	sought := &pages[n/2]
	sought.Coach.VIN = "GZ9TF785XEW004137"
	sought.Finds = append(sought.Finds, Find{KindHolder, "Runa Kvistberg"})
	return pages
}

func large(b *testing.B) *Book {
	book := newBook(b)
	noError(b, book.Reindex(fleet(10000)))
	b.ResetTimer()
	return book
}

func BenchmarkReindex(b *testing.B) {
	book, pages := newBook(b), fleet(10000)
	for b.Loop() {
		noError(b, book.Reindex(pages))
	}
}

func BenchmarkFind(b *testing.B) {
	book := large(b)
	for _, fragment := range []string{"004137", "4137", "gz9tf785xew004137", "Q-04711"} {
		b.Run(fragment, func(b *testing.B) {
			for b.Loop() {
				if hits, err := book.Find(fragment); err != nil || len(hits) == 0 {
					b.Fatal(hits, err)
				}
			}
		})
	}
}

func BenchmarkSearch(b *testing.B) {
	book := large(b)
	for _, words := range []string{"kvist", "runa kvistberg", "tarnholt kvist", "jorgen brunskog 1999", "jorg", "4137 fellside"} {
		b.Run(words, func(b *testing.B) {
			for b.Loop() {
				if hits, err := book.Search(words); err != nil || len(hits) == 0 {
					b.Fatal(hits, err)
				}
			}
		})
	}
}

func BenchmarkPutIndex(b *testing.B) {
	book, pages := large(b), fleet(10000)
	for i := 0; b.Loop(); i++ {
		page := pages[i%len(pages)]
		noError(b, book.Together(PutIndex(page.Coach, page.Finds)))
	}
}
