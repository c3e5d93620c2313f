package crew

// Script names the writing of a member's name.
type Script string

// The scripts of the crew's names. Vietnamese is Latin with stacked marks.
const (
	Latin      Script = "Latin"
	Vietnamese Script = "Vietnamese"
	Greek      Script = "Greek"
	Cyrillic   Script = "Cyrillic"
	Arabic     Script = "Arabic"
	Hebrew     Script = "Hebrew"
	Devanagari Script = "Devanagari"
)

// name is one name as its bearer writes it and in plain Latin letters.
type name struct{ own, latin string }

// surname is a family name as women and as men of the family bear it.
type surname struct{ woman, man name }

// both is a family name with one form.
func both(own, latin string) surname { return surname{name{own, latin}, name{own, latin}} }

// pool holds the names of one script. Common given names stand beside family
// names chosen so that no pair is that of a person in public life.
type pool struct {
	script      Script
	familyFirst bool
	women, men  []name
	families    []surname
}

// pools is indexed by the order in which scripts are dealt out.
func pools() []pool {
	return []pool{latinNames(), vietnameseNames(), greekNames(), cyrillicNames(), arabicNames(), hebrewNames(), devanagariNames()}
}

// Latin names of many countries, mixed as crews are.
func latinNames() pool {
	return pool{
		script: Latin,
		women: []name{{"Åsa", "Asa"}, {"Zoë", "Zoe"}, {"Agnès", "Agnes"}, {"Žofie", "Zofie"}, {"Inês", "Ines"},
			{"Małgorzata", "Malgorzata"}, {"Šárka", "Sarka"}, {"Þóra", "Thora"}, {"Ayşe", "Ayse"}, {"Nóra", "Nora"},
			{"Maëlle", "Maelle"}, {"Chiamaka", "Chiamaka"}, {"Siobhán", "Siobhan"}, {"Marit", "Marit"}, {"Leilani", "Leilani"}, {"Adèle", "Adele"}},
		men: []name{{"Søren", "Soren"}, {"Tomáš", "Tomas"}, {"Łukasz", "Lukasz"}, {"Jürgen", "Jurgen"}, {"Çağrı", "Cagri"},
			{"Björn", "Bjorn"}, {"André", "Andre"}, {"Ömer", "Omer"}, {"Seán", "Sean"}, {"Kwabena", "Kwabena"},
			{"Tendai", "Tendai"}, {"Rubén", "Ruben"}, {"Māris", "Maris"}, {"Gergő", "Gergo"}, {"Tāne", "Tane"}, {"Loïc", "Loic"}},
		families: []surname{both("Håkonsvik", "Hakonsvik"), both("Bjørkelund", "Bjorkelund"), both("Núñez Prado", "Nunez Prado"),
			both("Müllegger", "Mullegger"), both("Çelebioğlu", "Celebioglu"), both("Kőrösmezei", "Korosmezei"), both("Ó Muirithe", "O Muirithe"),
			both("Fjeldhus", "Fjeldhus"), both("Ķiršteins", "Kirsteins"), both("Țepușel", "Tepusel"), both("Adébọ̀wálé", "Adebowale"),
			both("Owusu-Darko", "Owusu-Darko"), both("Gonçalvinho", "Goncalvinho"), both("Świerczek", "Swierczek"), both("D’Hérouël", "D'Herouel"), both("Tūmatahi", "Tumatahi"),
			both("Brandt-Lund", "Brandt-Lund"), both("Ndlamini", "Ndlamini")},
	}
}

func vietnameseNames() pool {
	return pool{
		script: Vietnamese, familyFirst: true,
		women: []name{{"Thị Nhài", "Thi Nhai"}, {"Ngọc Diễm", "Ngoc Diem"}, {"Thu Nguyệt", "Thu Nguyet"}, {"Mỹ Phượng", "My Phuong"}, {"Bích Thoa", "Bich Thoa"}},
		men:   []name{{"Hữu Lượng", "Huu Luong"}, {"Đình Ngạn", "Dinh Ngan"}, {"Quang Thạnh", "Quang Thanh"}, {"Bảo Duẩn", "Bao Duan"}, {"Văn Luyến", "Van Luyen"}},
		families: []surname{both("Nguyễn", "Nguyen"), both("Trần", "Tran"), both("Phạm", "Pham"), both("Huỳnh", "Huynh"),
			both("Đặng", "Dang"), both("Bùi", "Bui"), both("Đỗ", "Do")},
	}
}

func greekNames() pool {
	pair := func(woman, womanLatin, man, manLatin string) surname {
		return surname{name{woman, womanLatin}, name{man, manLatin}}
	}
	return pool{
		script: Greek,
		women:  []name{{"Ελένη", "Eleni"}, {"Δέσποινα", "Despina"}, {"Καλλιόπη", "Kalliopi"}, {"Φωτεινή", "Fotini"}, {"Χρυσάνθη", "Chrysanthi"}},
		men:    []name{{"Νικήτας", "Nikitas"}, {"Στέλιος", "Stelios"}, {"Μανώλης", "Manolis"}, {"Λευτέρης", "Lefteris"}, {"Φώτης", "Fotis"}},
		families: []surname{pair("Θαλασσινού", "Thalassinou", "Θαλασσινός", "Thalassinos"), pair("Λιμενίδου", "Limenidou", "Λιμενίδης", "Limenidis"),
			pair("Πελαγίδου", "Pelagidou", "Πελαγίδης", "Pelagidis"), pair("Βαρκάρη", "Varkari", "Βαρκάρης", "Varkaris"),
			pair("Ξυλουρίδου", "Xylouridou", "Ξυλουρίδης", "Xylouridis"), pair("Αρμυρού", "Armyrou", "Αρμυρός", "Armyros")},
	}
}

func cyrillicNames() pool {
	return pool{
		script: Cyrillic,
		women:  []name{{"Олена", "Olena"}, {"Дарина", "Daryna"}, {"Надія", "Nadiia"}, {"Мирослава", "Myroslava"}, {"Зоряна", "Zoriana"}, {"Людмила", "Liudmyla"}},
		men:    []name{{"Остап", "Ostap"}, {"Данило", "Danylo"}, {"Тарас", "Taras"}, {"Назар", "Nazar"}, {"Юрій", "Yurii"}, {"Щасний", "Shchasnyi"}},
		families: []surname{both("Осадчук", "Osadchuk"), both("Калинюк", "Kalyniuk"), both("Вербенко", "Verbenko"), surname{name{"Прибережна", "Pryberezhna"}, name{"Прибережний", "Pryberezhnyi"}},
			both("Галушкевич", "Halushkevych"), both("Бережко", "Berezhko"), both("Ковтунець", "Kovtunets"), both("Гавриш", "Havrysh")},
	}
}

func arabicNames() pool {
	return pool{
		script: Arabic,
		women:  []name{{"سلمى", "Salma"}, {"هدى", "Huda"}, {"ليلى", "Layla"}, {"نوال", "Nawal"}, {"رانيا", "Raniya"}},
		men:    []name{{"سالم", "Salim"}, {"ياسين", "Yasin"}, {"مروان", "Marwan"}, {"عماد", "Imad"}, {"نبيل", "Nabil"}},
		families: []surname{both("البحري", "al-Bahri"), both("الساحلي", "al-Sahili"), both("الصياد", "al-Sayyad"),
			both("الزيتوني", "al-Zaytuni"), both("القطّان", "al-Qattan"), both("الموجي", "al-Mawji")},
	}
}

func hebrewNames() pool {
	return pool{
		script: Hebrew,
		women:  []name{{"תמר", "Tamar"}, {"נעמה", "Naama"}, {"שירה", "Shira"}, {"מיכל", "Michal"}},
		men:    []name{{"איתן", "Eitan"}, {"נועם", "Noam"}, {"גלעד", "Gilad"}, {"יואב", "Yoav"}},
		families: []surname{both("שחפי", "Shahafi"), both("מפרשי", "Mifrasi"), both("דגני", "Degani"),
			both("עוגני", "Ogani"), both("ניצני", "Nitzani")},
	}
}

func devanagariNames() pool {
	return pool{
		script: Devanagari,
		women:  []name{{"सरोज", "Saroj"}, {"निर्मला", "Nirmala"}, {"पुष्पा", "Pushpa"}, {"रेणुका", "Renuka"}, {"कृष्णा", "Krishna"}},
		men:    []name{{"दिनकर", "Dinkar"}, {"हेमंत", "Hemant"}, {"सुरेंद्र", "Surendra"}, {"योगेश", "Yogesh"}, {"माधव", "Madhav"}},
		families: []surname{both("तांडेल", "Tandel"), both("दळवीकर", "Dalvikar"), both("खांडेकर", "Khandekar"), both("बर्वे", "Barve"),
			both("घाटपांडे", "Ghatpande"), both("नाविकर", "Navikar")},
	}
}
